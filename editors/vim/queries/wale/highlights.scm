; Where two patterns fit, the later one counts.

(comment) @comment
(words) @string
(number) @number
(needle) @constant
(name) @variable

["{" "}" "(" ")"] @punctuation.bracket
"," @punctuation.delimiter
["+" "-" "*" "/" "="] @operator
["X" "O" "."] @constant

; Words: written by tests/editors.rs.
; End of the words.

; Where the place says more than the word alone.
(unit _ @type)
(in_work ["in" "work"] @function.builtin)
(out_of_work ["out" "of" "work"] @function.builtin)
(cast_on ["cast" "on"] @function.builtin)
(onto_waste_yarn ["onto" "waste" "yarn"] @function.builtin)
(pick_up ["waste" "yarn"] @function.builtin)
(stitch_size ["stitch" "size"] @attribute)
(stitch_sizes ["stitch" "sizes"] @attribute)
(meaning _ @type)

(pattern title: (words) @markup.heading)
(piece title: (words) @markup.heading)
(section title: (words) @markup.heading)
(use file: (words) @string.special.path)

(machine name: (name) @type)
(piece machine: (name) @type)
(yarn name: (name) @type)
(thread yarn: (name) @type)
(gauge name: (name) @type)
(stitch name: (name) @function)
(work stitch: (name) @function)
(chart name: (name) @function)
(fabric name: (name) @function)
(follow chart: (name) @function)
(parameter name: (name) @variable.parameter)
(argument name: (name) @variable.parameter)
(allow rule: (name) @label)
