(stitch body: (_) @function.inside) @function.around
(piece body: (_) @class.inside) @class.around
(parameter) @parameter.inside
(argument) @parameter.inside
(comment) @comment.inside
(comment)+ @comment.around
