(machine name: (name) @name) @definition.type
(yarn name: (name) @name) @definition.type
(stitch name: (name) @name) @definition.function
(chart name: (name) @name) @definition.constant
(let name: (name) @name) @definition.constant
(piece title: (words) @name) @definition.module
(work stitch: (name) @name) @reference.call
(follow chart: (name) @name) @reference.call
