// The language for tree-sitter. What the language is stands in grammar/wale.pest and its README; this grammar follows it so
// that editors can colour, fold and indent while a line is being written. It is a little wider: some of what wale refuses
// with a sentence (a line at the wrong place, blanks missing around a minus) is read here without an error.
//
// Every word of the language is a literal here. The queries name each of them, so that one that is missing fails the tests.

/** One or more of a rule, with commas between them. */
const list = rule => seq(rule, repeat(seq(',', rule)));

/** A block behind the line that it belongs to; its brace may stand on a line below. */
const opened = $ => seq(repeat($._newline), field('body', $.block));

module.exports = grammar({
  name: 'wale',

  extras: $ => [/[ \t]/, $.comment],

  word: $ => $.name,

  rules: {
    text: $ => optional($._lines),

    // A statement ends with its line, or where the block around it closes; one that has a block ends with that.
    _lines: $ => choice($._line, seq(repeat1(choice($._newline, seq($._line, $._newline), $._with_block)), optional($._line))),
    _newline: _ => /\r?\n|\r/,
    comment: _ => /#[^\r\n]*/,
    block: $ => seq('{', optional($._lines), '}'),

    _with_block: $ => choice(
      $.machine, $.yarn, $.gauge, $.chart, $.fabric, $.stitch, $.piece, $.section, $.repeat, $.follow, $.shape, $.allow,
    ),
    _line: $ => choice(
      $.row, $.rows, $.tubular, $.free_pass,
      $.pattern, $.use, $.sizes, $.let, $.chart_line, $.fabric_line, $.gauge_line,
      $.needles_line, $.pitch, $.racking, $.racking_slack, $.racking_step, $.longest_wait, $.widest_cross, $.half_step,
      $.selectors, $.holding, $.transfer_carriage, $.transfer_place, $.transfer_sizes, $.most_tucks, $.longest_float, $.stitch_sizes, $.emptied_needles,
      $.count, $.colour, $.fibre, $.ball, $.strands, $.plain_rows,
      $.in_work, $.out_of_work, $.hold, $.release, $.gaiting, $.rack, $.thread, $.stitch_size, $.carriage, $.reset_counter,
      $.cast_on, $.new_loops, $.transfer, $.move, $.cross, $.increase, $.decrease, $.drop, $.pick_up, $.bind_off,
      $.onto_waste_yarn, $.cut_yarn, $.work, $.arrange, $.note, $.mark, $.remind, $.expect,
    ),

    // ---- words and numbers ----------------------------------------------------------------------------------------

    name: _ => /[\p{Ll}\p{Lo}\p{Lm}][\p{Ll}\p{Lo}\p{Lm}\p{M}\p{Nd}-]*/,
    words: _ => /"[^"\r\n]*"/,
    number: _ => /[0-9]+(\.[0-9]+)?/,
    needle: _ => /[LR][0-9]+/,
    other_sizes: $ => seq('(', list($.number), ')'),
    unit: _ => choice('rows', 'row', 'stitches', 'stitch', 'needles', 'needle', 'cm', 'mm', 'm', 'in', 'kg', 'g'),
    quantity: $ => prec.right(seq($.number, optional($.other_sizes), optional($.unit))),
    needles: $ => prec.right(seq(
      $.needle, optional($.other_sizes),
      optional(seq(alias(token.immediate(prec(1, '-')), '-'), $.needle, optional($.other_sizes))),
    )),

    // ---- expressions ----------------------------------------------------------------------------------------------

    _expression: $ => choice($.binary, $.all_but, $._value),
    binary: $ => choice(
      prec.left(1, seq($._expression, field('operator', choice('and', 'or')), $._expression)),
      prec.left(2, seq($._expression, field('operator', choice('+', '-')), $._expression)),
      prec.left(3, seq($._expression, field('operator', choice('*', '/')), $._expression)),
    ),
    all_but: $ => seq('all', 'but', $._value),
    _value: $ => choice($.needles, $.each_side, $.picture, $.every, $.edgemost, $.chosen, $._count),
    _count: $ => choice($.quantity, $.name),
    chosen: _ => choice('all', 'loaded', 'empty'),
    each_side: $ => seq($._count, 'each', 'side'),
    picture: $ => prec.right(seq($.words, optional($._within))),
    every: $ => prec.right(seq('every', $._count, optional($._within))),
    edgemost: $ => seq(choice('leftmost', 'rightmost'), $._count),
    _within: $ => prec.right(seq('over', choice($.needles, $._count, $.each_side))),

    // ---- small words ----------------------------------------------------------------------------------------------

    bed: _ => choice('front', 'back', 'both'),
    side: _ => choice('left', 'right'),
    action: _ => choice('knit', 'tuck', 'slip'),
    _beds: _ => choice('beds', 'bed'),
    target: $ => seq($.bed, optional($._expression)),
    _targets: $ => list($.target),
    place: $ => choice('centre', seq($._expression, $.side)),

    // ---- rows -----------------------------------------------------------------------------------------------------

    row: $ => seq('row', $._parts),
    rows: $ => seq('rows', field('count', $._expression), $._parts),
    _parts: $ => list($.part),
    part: $ => choice($._doing, seq($.toward, optional($._doing))),
    toward: $ => seq('to', $.side),
    _doing: $ => choice(seq($.bed, $._acting), $._acting, $.setting, seq('new', 'loops')),
    _acting: $ => seq($.action, optional(choice(seq('on', field('needles', $._expression)), 'elsewhere'))),
    setting: $ => seq(choice('loosened', 'tightened', 'size'), $._expression, optional($.bed)),
    tubular: $ => seq('tubular', field('count', $._expression), optional('rows'), optional(seq(',', $.bed, 'first'))),
    free_pass: _ => seq('free', 'pass'),

    // ---- declarations ---------------------------------------------------------------------------------------------

    pattern: $ => seq('pattern', field('title', $.words)),
    use: $ => seq('use', field('file', $.words)),
    machine: $ => seq('machine', field('name', $.name), opened($)),
    yarn: $ => seq('yarn', field('name', $.name), opened($)),
    gauge: $ => seq('gauge', field('name', $.name), opened($)),
    chart: $ => seq('chart', field('name', $.name), opened($)),
    fabric: $ => seq('fabric', field('name', $.name), opened($)),
    sizes: $ => seq('sizes', list(field('name', $.name))),
    let: $ => seq('let', field('name', $.name), '=', field('value', $._expression)),
    stitch: $ => seq(
      'stitch', field('name', $.name), optional($.parameters),
      choice(seq('on', $.bed), seq('from', $.bed, 'to', $.bed)), opened($),
    ),
    parameters: $ => seq('(', list($.parameter), ')'),
    parameter: $ => seq(field('name', $.name), field('meaning', $.meaning)),
    meaning: _ => choice('number', 'rows', 'stitches', 'needles', 'length', 'selection'),
    chart_line: $ => $.words,
    fabric_line: _ => repeat1(choice('X', 'O', '.')),
    gauge_line: $ => seq(
      $.quantity, 'and', $.quantity, 'in', $.quantity, optional(seq(',', choice('washed', 'unwashed', 'relaxed'))),
    ),

    // ---- lines of a machine ---------------------------------------------------------------------------------------

    needles_line: $ => seq('needles', $._count, 'each', 'side'),
    pitch: $ => seq('pitch', $._expression),
    racking: $ => seq('racking', $.bed, $._beds, ',', $._expression, 'left', 'to', $._expression, 'right'),
    racking_slack: $ => seq('racking', 'slack', $._expression),
    racking_step: $ => seq('racking', 'step', $._expression),
    longest_wait: $ => seq('longest', 'wait', $._expression),
    widest_cross: $ => seq('widest', 'cross', $._expression),
    half_step: $ => seq(
      'half', 'step', choice(seq('with', choice(seq('a', 'lever'), seq('the', 'racking', 'handle'))), seq('to', 'the', $.side)),
    ),
    selectors: $ => seq('selectors', choice('none', seq($.bed, $._beds))),
    holding: $ => seq('hold', choice('none', seq($.bed, $._beds))),
    transfer_carriage: $ => seq(
      'transfer', 'carriage', optional(choice(list($.carriage_way), seq('takes', list($.taking)))),
    ),
    taking: _ => choice(
      seq('every', choice('stitch', seq('second', 'needle'))), seq('lone', 'stitches'), seq('picked', 'needles'),
    ),
    transfer_place: $ => seq('transfer', 'place', $.words),
    transfer_sizes: $ => seq('transfer', 'at', 'size', $._expression, 'to', $._expression),
    carriage_way: $ => seq('to', $.bed, optional(seq('from', $.side))),
    most_tucks: $ => seq('most', optional('adjacent'), 'tucks', $._expression),
    longest_float: $ => seq('longest', 'float', $._expression),
    stitch_sizes: $ => seq('stitch', 'sizes', $._expression, 'to', $._expression),
    emptied_needles: $ => seq('emptied', 'needles', $._what_becomes),
    _what_becomes: _ => choice(seq('stay', 'in', 'work'), seq('go', 'out', 'of', 'work')),

    // ---- lines of a yarn ------------------------------------------------------------------------------------------

    count: $ => seq(
      'count', $.number, optional(seq('/', $.number)), choice('Nm', 'tex', 'dtex', 'denier', 'Ne', 'worsted'),
    ),
    colour: $ => seq('colour', $.words),
    fibre: $ => seq('fibre', $.words),
    ball: $ => seq('ball', $._expression),
    strands: $ => seq('strands', $._expression),
    plain_rows: $ => seq('plain', 'rows', 'at', 'size', $._expression),

    // ---- pieces and beds ------------------------------------------------------------------------------------------

    piece: $ => seq(
      'piece', field('title', $.words), optional(seq(',', 'make', $._expression)),
      optional(seq('on', field('machine', $.name))), opened($),
    ),
    section: $ => seq('section', field('title', $.words), opened($)),
    in_work: $ => seq('in', 'work', $._targets),
    out_of_work: $ => seq('out', 'of', 'work', $._targets),
    hold: $ => seq('hold', $._targets),
    release: $ => seq('release', $._targets),
    gaiting: $ => seq('gaiting', choice('between', 'opposite')),
    rack: $ => seq('rack', choice(seq('to', $.place), seq($._expression, $.side))),
    thread: $ => seq('thread', field('yarn', $.name)),
    stitch_size: $ => seq('stitch', 'size', choice(list(seq($.bed, $._expression)), $._expression)),
    carriage: $ => seq('carriage', $.side),
    reset_counter: _ => seq('reset', 'counter'),

    // ---- loops ----------------------------------------------------------------------------------------------------

    cast_on: $ => seq('cast', 'on', choice('zigzag', 'open', 'wound', 'chain'), optional($._targets)),
    new_loops: $ => seq('new', 'loops', $._targets),
    transfer: $ => seq('transfer', $.target, 'to', $.bed, repeat($._manner)),
    _manner: $ => seq(',', choice('joining', seq('emptied', $._what_becomes), seq('by', choice('hand', 'carriage')))),
    move: $ => seq(
      'move', $.bed, field('needles', $._expression),
      choice(seq('to', $.bed, $._expression), seq($._expression, $.side)), repeat($._manner),
    ),
    cross: $ => seq('cross', $.bed, $._expression, 'over', $._expression),
    increase: $ => seq('increase', $._edge_change),
    decrease: $ => seq('decrease', $._edge_change),
    _edge_change: $ => seq($.bed, $._expression, 'at', $.edge, optional(seq(',', $.inset)), optional(seq(',', $.slope))),
    edge: _ => choice('left', 'right', seq('each', 'edge')),
    inset: $ => seq('inset', $._expression),
    slope: $ => seq($._expression, 'times', 'evenly'),
    drop: $ => seq('drop', $._targets),
    pick_up: $ => seq('pick', 'up', $._targets, optional(seq('from', choice(seq('waste', 'yarn'), $.words)))),
    bind_off: $ => seq('bind', 'off', $._targets),
    onto_waste_yarn: $ => seq('onto', 'waste', 'yarn', $._targets, optional(seq('as', field('name', $.words)))),
    cut_yarn: _ => seq('cut', 'yarn'),

    // ---- structure ------------------------------------------------------------------------------------------------

    repeat: $ => seq('repeat', field('count', $._expression), 'times', opened($)),
    work: $ => seq('work', field('stitch', $.name), optional($.arguments), optional($._extent)),
    arguments: $ => seq('(', list($.argument), ')'),
    argument: $ => seq(field('name', $.name), field('value', $._expression)),
    _extent: $ => choice(seq('for', $._expression), seq($._expression, 'times')),
    follow: $ => seq('follow', field('chart', $.name), optional($._extent), opened($)),
    shape: $ => seq('shape', 'over', $._expression, optional('rows'), opened($)),
    arrange: $ => seq('arrange', $._targets),

    // ---- speech and promises --------------------------------------------------------------------------------------

    note: $ => seq('note', $.words),
    mark: $ => seq('mark', $.words),
    remind: $ => seq('remind', 'every', $._expression, optional('rows'), $.words),
    expect: $ => seq('expect', list($.promise)),
    promise: $ => choice(
      seq('carriage', $.side),
      seq('counter', $._expression),
      seq('gaiting', choice('between', 'opposite')),
      seq('racking', $.place),
      seq('tube', choice('closed', seq('open', 'at', $.side))),
      seq($._expression, optional('stitches'), $.bed),
    ),
    allow: $ => seq('allow', field('rule', $.name), 'because', $.words, opened($)),
  },
});
