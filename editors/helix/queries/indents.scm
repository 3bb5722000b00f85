(block) @indent
"}" @outdent
