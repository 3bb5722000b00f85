//! Rules about what a pattern says: files, names, values, what stands where.

use crate::catalogue::{Rule, Severity, catalogue};

catalogue! {
    CIRCULAR_USE = Rule {
        name: "circular-use",
        severity: Severity::Warning,
        summary: "A file uses itself, directly or by way of other files.",
        why: "Each file is read once, so nothing is lost. But of two files that use each other neither can be \
              understood or lent out alone.",
        source: "the grammar of the language",
        bad: "# This line stands in the file breakwater.wale.
use \"breakwater.wale\"",
        good: "# This line stands in the file breakwater.wale.
use \"bollard-room.wale\"",
    };

    DIVIDED_BY_ZERO = Rule {
        name: "divided-by-zero",
        severity: Severity::Error,
        summary: "A number is divided by 0.",
        why: "Nothing can be shared out among none. Mostly the number behind the stroke is a value that was not \
              meant to be 0.",
        source: "arithmetic",
        bad: "let tiles = 0
let width = 24 / tiles",
        good: "let tiles = 4
let width = 24 / tiles",
    };

    DUPLICATE_NAME = Rule {
        name: "duplicate-name",
        severity: Severity::Error,
        summary: "One name is given to two things.",
        why: "Where the name is used nobody could tell which of the two is meant: the one that stands first, or \
              the one that was added later and forgotten.",
        source: "the grammar of the language",
        bad: "let width = 20
let width = 24",
        good: "let cuff-width = 20
let hand-width = 24",
    };

    ENDLESS_DEFINITION = Rule {
        name: "endless-definition",
        severity: Severity::Error,
        summary: "A value or a stitch is made of itself.",
        why: "What is worked out from itself never comes to an end. A pattern always ends: what comes again is \
              written as a repeat, with the number of times.",
        source: "the grammar of the language",
        bad: "let length = width * 2
let width = length / 2",
        good: "let length = width * 2
let width = 30 cm",
    };

    MISPLACED_LINE = Rule {
        name: "misplaced-line",
        severity: Severity::Error,
        summary: "A line stands where lines of its kind have no place.",
        why: "What describes the machine stands with the machine, and what is knitted stands in a piece. Mostly a \
              brace was closed too early or too late.",
        source: "the grammar of the language",
        bad: "machine club {
    needles 82 each side
}
pitch 5.3 mm",
        good: "machine club {
    needles 82 each side
    pitch 5.3 mm
}",
    };

    MISSING_LINE = Rule {
        name: "missing-line",
        severity: Severity::Error,
        summary: "A machine, a gauge or a chart leaves out the line that it cannot do without.",
        why: "Without its number of needles nobody knows whether a piece fits the machine, without its count a \
              gauge measures nothing, and a chart without lines has no rows.",
        source: "the grammar of the language",
        bad: "machine club {
    pitch 5.3 mm
}",
        good: "machine club {
    needles 82 each side
    pitch 5.3 mm
}",
    };

    MIXED_AND_OR = Rule {
        name: "mixed-and-or",
        severity: Severity::Error,
        summary: "`and` and `or` stand together in one choice of needles.",
        why: "The choice could be read in two ways, and the two take different needles.",
        source: "the grammar of the language",
        bad: "let marked = leftmost 2 or rightmost 2 and L8-R8",
        good: "let edges = leftmost 2 or rightmost 2
let marked = edges and L8-R8",
    };

    NO_GAUGE = Rule {
        name: "no-gauge",
        severity: Severity::Error,
        summary: "A stitch is worked for a length, and no gauge says how many rows that is.",
        why: "The same stitch is longer or shorter in every yarn, at every stitch size and on every machine. Only \
              a swatch, rested and washed as the piece will be, tells how many rows make the length.",
        source: "the swatch (`gauge`)",
        bad: "stitch plain on front {
    row front knit
}
piece \"Strap\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work plain for 40 cm
    bind off front
}",
        good: "gauge plain { 28 stitches and 40 rows in 10 cm, washed }
stitch plain on front {
    row front knit
}
piece \"Strap\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work plain for 40 cm
    bind off front
}",
    };

    NO_MACHINE = Rule {
        name: "no-machine",
        severity: Severity::Error,
        summary: "It is not said on which machine a piece is knitted.",
        why: "Whether a row can be knitted depends on the machine: how many needles it has, how far its beds rack, \
              which of them can pick needles.",
        source: "the grammar of the language",
        bad: "machine club { needles 82 each side }
machine attic { needles 56 each side }
piece \"Strap\" {
    note \"Knit it last.\"
}",
        good: "machine club { needles 82 each side }
machine attic { needles 56 each side }
piece \"Strap\" on club {
    note \"Knit it last.\"
}",
    };

    NOT_A_WHOLE_NUMBER = Rule {
        name: "not-a-whole-number",
        severity: Severity::Error,
        summary: "Half a row, half a stitch or half a repeat is asked for.",
        why: "Rows, stitches and repeats are counted, and there are no halves of them. Mostly a division did not \
              come out even.",
        source: "follows from counting",
        bad: "in work front L3-R3
thread slate
cast on wound front
repeat 5 / 2 times {
    row front knit
}
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
repeat 6 / 2 times {
    row front knit
}
bind off front",
    };

    NOT_THERE_YET = Rule {
        name: "not-there-yet",
        severity: Severity::Error,
        summary: "The line is understood, but this version of wale cannot work it out yet.",
        why: "Rather than leave the line out in silence and knit something else, the pattern is refused until the \
              moves are written out.",
        source: "the state of this version",
        bad: "in work front L3-R3
thread slate
cast on wound front
arrange back L3-R3
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
gaiting opposite
in work back L3-R3
row front knit, loosened 1
transfer front to back
bind off back",
    };

    OUT_OF_RANGE = Rule {
        name: "out-of-range",
        severity: Severity::Error,
        summary: "A number is outside of what makes sense for what it counts.",
        why: "Such a number is mostly a slip of the pen: a unit that is wrong, a digit left out, two numbers the \
              wrong way round.",
        source: "the grammar of the language",
        bad: "machine club {
    needles 82 each side
    pitch 5 cm
}",
        good: "machine club {
    needles 82 each side
    pitch 5.3 mm
}",
    };

    SAID_TWICE = Rule {
        name: "said-twice",
        severity: Severity::Error,
        summary: "One line, or one block, says the same thing twice, and perhaps differently.",
        why: "It would be left open which of the two counts.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
row front knit, front tuck
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front tuck on L2, knit elsewhere
row front knit
bind off front",
    };

    TOO_LARGE = Rule {
        name: "too-large",
        severity: Severity::Error,
        summary: "A number is so large that it cannot be worked with, or so fine.",
        why: "It is far past anything that can be knitted, so it is mostly a slip: a digit too many, or a wrong \
              unit.",
        source: "our own limits",
        bad: "machine club {
    needles 900 each side
}",
        good: "machine club {
    needles 82 each side
}",
    };

    UNEVEN_CHART = Rule {
        name: "uneven-chart",
        severity: Severity::Error,
        summary: "The lines of a chart are not equally long.",
        why: "Every line of a chart is laid over the same needles, one mark to a needle. A line that is shorter \
              would slide to one side.",
        source: "the grammar of the language",
        bad: "chart wave {
    \"|..|\"
    \"||.\"
}",
        good: "chart wave {
    \"|..|\"
    \"||..\"
}",
    };

    UNIT_MISMATCH = Rule {
        name: "unit-mismatch",
        severity: Severity::Error,
        summary: "Two things are put together that are not of one kind, such as rows and centimetres.",
        why: "40 rows and 10 cm cannot be added: how long a row is, only a gauge says. Units keep a number of \
              stitches from being taken for a length.",
        source: "follows from the meaning of the units",
        bad: "let length = 40 rows + 10 cm",
        good: "let length = 20 cm + 10 cm",
    };

    UNKNOWN_NAME = Rule {
        name: "unknown-name",
        severity: Severity::Error,
        summary: "A name is used that nothing in the pattern has.",
        why: "Mostly it is misspelt, or the file in which it stands is not used.",
        source: "the grammar of the language",
        bad: "let cuff = 24
let hand = cuf + 8",
        good: "let cuff = 24
let hand = cuff + 8",
    };

    UNREADABLE_FILE = Rule {
        name: "unreadable-file",
        severity: Severity::Error,
        summary: "A file that the pattern uses cannot be read.",
        why: "Everything that it should bring, a machine or a stitch, is missing then, and whatever rests on it \
              cannot be checked.",
        source: "the file itself",
        bad: "use \"net-lofft.wale\"",
        good: "use \"bollard-room.wale\"",
    };

    UNEVEN_SIZES = Rule {
        name: "uneven-sizes",
        severity: Severity::Warning,
        summary: "The values of a series of sizes rise and fall.",
        why: "Sizes stand in an order, and what is larger in one of them is mostly larger in all that follow. A value \
              that falls back is often a slip of the pen, or two values that changed places, and nobody sees it before \
              that size is knitted. Small numbers, below 10, are left alone: so are rows between decreases.",
        source: "common practice, no source",
        bad: "sizes small, medium, large
piece \"Pocket\" {
    in work front L9 (19, 11)-R9 (10, 11)
    thread slate
    cast on wound front
    bind off front
}",
        good: "sizes small, medium, large
piece \"Pocket\" {
    in work front L9 (10, 11)-R9 (10, 11)
    thread slate
    cast on wound front
    bind off front
}",
    };

    UNUSED_NAME = Rule {
        name: "unused-name",
        severity: Severity::Warning,
        summary: "A yarn, a value, a stitch or a chart has a name, and no line uses it.",
        why: "It is mostly what remains of a line that was left out, or that names something else: the stitch that is never \
              worked, the yarn that was never threaded. Only whole patterns with a title are looked at, and only what they \
              declare themselves: a file that is used may offer more than is taken.",
        source: "follows from the text",
        bad: "pattern \"Cuff\"
yarn slate {}
yarn ember {}
piece \"Cuff\" {
    in work front L3-R3
    thread slate
    cast on wound front
    row front knit
    bind off front
}",
        good: "pattern \"Cuff\"
yarn slate {}
yarn ember {}
piece \"Cuff\" {
    in work front L3-R3
    thread slate
    cast on wound front
    thread ember
    row front knit
    bind off front
}",
    };

    WRONG_COUNT_OF_SIZES = Rule {
        name: "wrong-count-of-sizes",
        severity: Severity::Error,
        summary: "A value is given for more sizes or for fewer than the pattern has.",
        why: "Values for several sizes stand in the order of the `sizes` line, the first one alone and the others \
              in brackets. With one too few, somebody's size is knitted by the numbers of another.",
        source: "the grammar of the language",
        bad: "sizes small, medium, large
let width = 20 (24)",
        good: "sizes small, medium, large
let width = 20 (24, 28)",
    };

    WRONG_DETAILS = Rule {
        name: "wrong-details",
        severity: Severity::Error,
        summary: "What is told to a stitch in brackets is not what its definition asks for.",
        why: "A stitch can leave open a number or some needles until it is worked. Each of these must be told \
              once, by its name, and be of the right kind.",
        source: "the grammar of the language",
        bad: "stitch ridge (depth rows) on front {
    rows depth front knit
}
piece \"Strap\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work ridge
    bind off front
}",
        good: "stitch ridge (depth rows) on front {
    rows depth front knit
}
piece \"Strap\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work ridge (depth 4 rows)
    bind off front
}",
    };
}
