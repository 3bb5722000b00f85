//! Rules about what its lines ask of the needles.

use crate::catalogue::{Rule, Severity, catalogue};

catalogue! {
    EMPTY_ROW = Rule {
        name: "empty-row",
        severity: Severity::Error,
        summary: "A row does not say what any bed does.",
        why: "A bed that is not named slips. When none is named the carriage goes across and knits nothing, and \
              that is hardly what is meant.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
row loosened 1
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front knit, loosened 1
bind off front",
    };

    HAND_ONLY = Rule {
        name: "hand-only",
        severity: Severity::Error,
        summary: "The transfer carriage is asked for a move that only the hand tool can make.",
        why: "A transfer carriage takes stitches straight across to the needles that face them. To the side, and \
              within one bed, stitches go by the hand tool.",
        source: "common practice, no source",
        bad: "in work front L3-R3
thread slate
cast on wound front
move front L3 1 right, joining, by carriage
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
move front L3 1 right, joining, by hand
bind off front",
    };

    MISSING_BED = Rule {
        name: "missing-bed",
        severity: Severity::Error,
        summary: "A line does not say which bed it is about.",
        why: "Front and back are two different things to do at the machine, and a guess would be wrong half of the \
              time.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
row knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    };

    MISSING_NEEDLES = Rule {
        name: "missing-needles",
        severity: Severity::Error,
        summary: "A line names a bed and not the needles of it that are meant.",
        why: "Where stitches are on the needles `front` can mean all of them. Where needles are brought into work \
              or wound anew there is nothing yet to go by.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
in work back
thread slate
cast on wound front
row front knit
bind off front",
        good: "in work front L3-R3
in work back L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    };

    NO_ROWS = Rule {
        name: "no-rows",
        severity: Severity::Error,
        summary: "A stitch without any row is to be worked for a length or for a number of rows.",
        why: "However often it is worked, the fabric does not grow, so the length is never reached.",
        source: "follows from the meaning of a length",
        bad: "stitch sway on both {
    rack 1 right
    rack to centre
}
piece \"Cuff\" {
    in work front L3-R3, back L3-R3
    thread slate
    cast on zigzag
    work sway for 8 rows
    bind off both
}",
        good: "stitch sway on both {
    rack 1 right
    row both knit
    rack to centre
    row both knit
}
piece \"Cuff\" {
    in work front L3-R3, back L3-R3
    thread slate
    cast on zigzag
    work sway for 8 rows
    bind off both
}",
    };

    NOT_FIXED = Rule {
        name: "not-fixed",
        severity: Severity::Error,
        summary: "Needles that must be named one by one are picked by what is on the beds.",
        why: "`loaded`, `leftmost 2` and the like mean other needles each time the line is reached. Where stitches \
              cross or change places the needles must be the same each time.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
cross front leftmost 1 over L2
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
cross front L3 over L2
bind off front",
    };

    NOT_SIDE_BY_SIDE = Rule {
        name: "not-side-by-side",
        severity: Severity::Error,
        summary: "Needles that must stand side by side have others between them.",
        why: "Two groups that cross change places over each other, and a picture of needles is laid over them one \
              after the other. With a gap between there is a needle of which nothing is said.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
cross front L3-L2 over R1-R2
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
cross front L2-L1 over R1-R2
bind off front",
    };

    OFF_BED = Rule {
        name: "off-bed",
        severity: Severity::Error,
        summary: "A needle is named that the machine does not have.",
        why: "Needles are counted from the centre, L1 and R1 outward, and there is no zero. A piece that is wider than \
              the bed cannot be knitted flat on it.",
        source: "the machine's profile (`needles`)",
        bad: "machine small {
    needles 20 each side
}
piece \"Example\" {
    in work front R15-R20
    thread slate
    cast on wound front
    row front knit
    increase front 1 at right
    bind off front
}",
        good: "machine small {
    needles 20 each side
}
piece \"Example\" {
    in work front R15-R20
    thread slate
    cast on wound front
    row front knit
    increase front 1 at left
    bind off front
}",
    };

    ONE_BED = Rule {
        name: "one-bed",
        severity: Severity::Error,
        summary: "A line that is about one bed names both, or leads from a bed to itself.",
        why: "A transfer goes from one bed to the other; `both` leaves open where the stitches come from and where \
              they go.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
cross both L2-L1 over R1-R2
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
cross front L2-L1 over R1-R2
bind off front",
    };

    OPEN_REPEAT = Rule {
        name: "open-repeat",
        severity: Severity::Error,
        summary: "A repeat ends with the beds so that it cannot begin again.",
        why: "What is worked more than once must end as it began: the same beds carry stitches, and they stand to each \
              other in the same way. Else the second pass is not the first one again.",
        source: "follows from the meaning of a repeat",
        bad: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
gaiting opposite
repeat 2 times {
    row front knit, loosened 1
    transfer front to back
}
bind off back",
        good: "in work front L3-R3, back L3-R3
thread slate
cast on wound front
gaiting opposite
repeat 2 times {
    row front knit, loosened 1
    transfer front to back
    row back knit, loosened 1
    transfer back to front
}
bind off front",
    };

    RAGGED_REPEAT = Rule {
        name: "ragged-repeat",
        severity: Severity::Error,
        summary: "A repeat does not go into its width, or its rows, a whole number of times.",
        why: "The last repeat would be cut off: the pattern does not meet at the seam, and a second piece does not match \
              the first.",
        source: "follows from the numbers of the pattern",
        bad: "in work front L5-R5
thread slate
cast on wound front
row front slip on \"|..\", knit elsewhere
row front knit
bind off front",
        good: "in work front L6-R6
thread slate
cast on wound front
row front slip on \"|..\", knit elsewhere
row front knit
bind off front",
    };

    UNEVEN_MOVE = Rule {
        name: "uneven-move",
        severity: Severity::Error,
        summary: "Stitches are moved to needles that are more, fewer, or spaced otherwise.",
        why: "In one move every stitch goes the same way by the same number of needles.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
in work front R4-R5
move front R2-R3 to front R4
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
in work front R4-R5
move front R2-R3 to front R4-R5
bind off front",
    };

    WRONG_BED = Rule {
        name: "wrong-bed",
        severity: Severity::Error,
        summary: "A stitch is worked while the stitches are on other beds than it is made for, or a bed is asked for what it cannot do.",
        why: "A definition says which beds carry stitches before and after it (`on both`, `from both to front`). Worked on \
              other beds its rows lay loops on empty needles or leave stitches behind.",
        source: "follows from the definition and the state of the beds",
        bad: "stitch ridge on both {
    row both knit
}
piece \"Example\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work ridge 2 times
    bind off front
}",
        good: "stitch ridge on front {
    row front knit
}
piece \"Example\" {
    in work front L3-R3
    thread slate
    cast on wound front
    work ridge 2 times
    bind off front
}",
    };

    WRONG_MARK = Rule {
        name: "wrong-mark",
        severity: Severity::Error,
        summary: "A picture of needles holds something else than `|` and `.`.",
        why: "In a picture `|` takes a needle and `.` leaves it. Another mark says nothing about its needle.",
        source: "the grammar of the language",
        bad: "let ribs = \"X.X.\"",
        good: "let ribs = \"|.|.\"",
    };
}
