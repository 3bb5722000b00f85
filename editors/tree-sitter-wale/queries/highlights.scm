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
; declaration
[
  "chart" "fabric" "gauge" "let" "machine" "make" "pattern" "piece" "section" "sizes" "stitch" "use"
  "yarn"
] @keyword.type
; structure
[
  "evenly" "follow" "for" "repeat" "shape" "times" "work"
] @keyword.repeat
; operation
[
  "arrange" "bind" "cast" "chain" "cross" "cut" "decrease" "drop" "free" "hold" "increase" "joining"
  "loops" "move" "new" "off" "onto" "open" "out" "pass" "pick" "rack" "release" "reset" "row" "rows"
  "thread" "transfer" "tubular" "up" "waste" "wound" "zigzag"
] @function.builtin
; action
[
  "knit" "slip" "tuck"
] @keyword
; bed
[
  "back" "bed" "beds" "both" "front"
] @type.builtin
; side
[
  "centre" "edge" "left" "right" "side"
] @constant.builtin
; selection
[
  "all" "but" "each" "elsewhere" "empty" "every" "first" "leftmost" "loaded" "none" "rightmost"
] @keyword.operator
; setting
[
  "between" "carriage" "counter" "emptied" "gaiting" "go" "hand" "inset" "loosened" "opposite"
  "racking" "size" "stay" "tightened"
] @attribute
; unit
[
  "Ne" "Nm" "cm" "denier" "dtex" "g" "kg" "length" "m" "mm" "needle" "needles" "number" "selection"
  "stitches" "tex" "worsted"
] @type
; profile
[
  "adjacent" "ball" "colour" "count" "fibre" "float" "half" "handle" "lever" "lone" "longest" "most"
  "picked" "pitch" "place" "plain" "relaxed" "second" "selectors" "slack" "step" "strands" "takes"
  "tucks" "unwashed" "wait" "washed" "widest"
] @property
; speech
[
  "mark" "note" "remind"
] @keyword.directive
; promise
[
  "allow" "because" "closed" "expect" "tube"
] @keyword.exception
; link
[
  "a" "and" "as" "at" "by" "from" "in" "of" "on" "or" "over" "the" "to" "with"
] @operator
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
