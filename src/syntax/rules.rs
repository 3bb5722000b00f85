//! The rules about how a text is written: words, signs, braces. Their findings are made where the text is read.

use crate::catalogue::{Rule, Severity, catalogue};

catalogue! {
    CAPITAL_WORD = Rule {
        name: "capital-word",
        severity: Severity::Error,
        summary: "A word is written with a capital letter where the language has a small one, or the other way round.",
        why: "Every word is written in one way only, so that a line looks the same in every pattern and can be \
              found again. Needles have capitals, L and R, so that `l1` is not taken for `11`; some units of yarn \
              counts have them too, as the trade writes them.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
Row front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    };

    CONTROL_CHARACTER = Rule {
        name: "control-character",
        severity: Severity::Error,
        summary: "A character that steers a printer or a screen stands in the text.",
        why: "It cannot be seen, and it means nothing to a knitter. Where one turns up the file is often damaged, \
              or it is no text at all.",
        source: "the grammar of the language",
        bad: "note \"Move the weights up.\u{7}\"",
        good: "note \"Move the weights up.\"",
    };

    LOOK_ALIKE_CHARACTER = Rule {
        name: "look-alike-character",
        severity: Severity::Error,
        summary: "A character looks like the one that is meant and is another one: a curly quotation mark, a long dash, a letter of another script.",
        why: "On paper the two are the same, and the eye cannot tell them apart. They come in when text is copied \
              from a web page or a word processor that makes typing prettier.",
        source: "the grammar of the language",
        bad: "pattern \u{201c}Breakwater scarf\u{201d}",
        good: "pattern \"Breakwater scarf\"",
    };

    MERGE_MARKER = Rule {
        name: "merge-marker",
        severity: Severity::Error,
        summary: "Two versions of the same lines stand one below the other, with the marks of an unfinished merge between them.",
        why: "When two people have changed the same lines, the tool that brings their work together leaves both in \
              the file and marks them. Somebody has to choose: knitted as it stands, the piece would have the rows \
              of both.",
        source: "the marks that common version control tools leave in a text",
        bad: "in work front L3-R3\n\
              thread slate\n\
              cast on wound front\n\
              <<<<<<< from Monday\n\
              rows 40 front knit\n\
              =======\n\
              rows 44 front knit\n\
              >>>>>>> from Thursday\n\
              bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
rows 44 front knit
bind off front",
    };

    MISSING_BLOCK = Rule {
        name: "missing-block",
        severity: Severity::Error,
        summary: "A line that opens something is not followed by the lines that belong to it.",
        why: "A piece, a repeat, a stitch or a machine is said by several lines, and the braces show which of them \
              belong to it. Without them nobody can see where a repeat ends.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
repeat 4 times
row front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
repeat 4 times {
    row front knit
}
bind off front",
    };

    MISSPELT_WORD = Rule {
        name: "misspelt-word",
        severity: Severity::Error,
        summary: "A word is not known, and one that is very like it could stand there.",
        why: "A word with a slip in it could be meant in more than one way, and a guess that is wrong costs a \
              piece. So the line is left out until it is mended, by you or by `wale check --mend` where the word leaves no \
              choice.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
row front knitt
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    };

    NEEDLESS_BLOCK = Rule {
        name: "needless-block",
        severity: Severity::Error,
        summary: "Braces follow a line that needs none, or stand behind no line at all.",
        why: "Braces hold what belongs to the line before them. Where that line says everything by itself, it is \
              not clear what the lines inside are meant to do: be worked once, be repeated, or wait.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
rows 4 front knit {
    note \"Move the weights up.\"
}
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
rows 4 front knit
note \"Move the weights up.\"
bind off front",
    };

    NOT_TIDIED = Rule {
        name: "not-tidied",
        severity: Severity::Error,
        summary: "A text was not tidied, so that nothing in it is lost.",
        why: "A text of which more lines cannot be read than can is perhaps no pattern, and may need its blanks. And before a \
              tidy text takes the place of the old one it is read again and compared, word for word: if a word or a comment \
              were missing, or if the text had become too long to be read, the old one stays.",
        source: "the text itself; our own limit of 4 MiB for a text",
        bad: "",
        good: "",
    };

    RESERVED_WORD = Rule {
        name: "reserved-word",
        severity: Severity::Error,
        summary: "A word of the language is used as a name.",
        why: "A line with that name in it could be read in two ways.",
        source: "the grammar of the language",
        bad: "let needles = 24",
        good: "let cuff-needles = 24",
    };

    STRAY_BRACE = Rule {
        name: "stray-brace",
        severity: Severity::Error,
        summary: "A closing brace closes nothing.",
        why: "Every `}` ends the block that was opened last. One too many means that a block ended earlier than \
              its writer thought, and the lines after it stand in the wrong place.",
        source: "the grammar of the language",
        bad: "yarn slate {
    colour \"slate grey\"
}
}",
        good: "yarn slate {
    colour \"slate grey\"
}",
    };

    TOO_DEEP = Rule {
        name: "too-deep",
        severity: Severity::Error,
        summary: "Blocks, stitches or values stand inside one another more often than anybody could follow.",
        why: "A repeat in a repeat in a repeat is hard to keep count of at the machine. A part with a name of its \
              own is read once and then only named.",
        source: "our own limit of 64",
        bad: "",
        good: "",
    };

    TOO_MANY_FINDINGS = Rule {
        name: "too-many-findings",
        severity: Severity::Error,
        summary: "There is so much to mend that only the first part is listed.",
        why: "Nobody reads hundreds of messages, and the first ones often cause the rest. Perhaps the file is no \
              pattern at all.",
        source: "our own limits: 200 for the reading of one text, 500 for the playing of one piece, 5000 for the working out of one size",
        bad: "",
        good: "",
    };

    UNCLOSED_BRACE = Rule {
        name: "unclosed-brace",
        severity: Severity::Error,
        summary: "A block is opened and never closed.",
        why: "Without its closing brace everything that follows seems to belong to the block: the lines of the \
              next section, the next piece, the whole rest of the pattern.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
section \"Hem\" {
    rows 4 front knit
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
section \"Hem\" {
    rows 4 front knit
}
bind off front",
    };

    UNCLOSED_QUOTE = Rule {
        name: "unclosed-quote",
        severity: Severity::Error,
        summary: "Words in quotation marks begin and do not end on the same line.",
        why: "The marks show where the words for the knitter begin and where they end, so that nothing in them is \
              taken for an instruction.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
note \"Move the weights up.
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
note \"Move the weights up.\"
bind off front",
    };

    UNREADABLE_LINE = Rule {
        name: "unreadable-line",
        severity: Severity::Error,
        summary: "A line is like no line that the language knows.",
        why: "A line that cannot be read is left out, and everything after it would be knitted as if it were not \
              there. All other lines are still read and checked.",
        source: "the grammar of the language",
        bad: "in work front L3-R3
thread slate
cast on wound front
row the front bed
bind off front",
        good: "in work front L3-R3
thread slate
cast on wound front
row front knit
bind off front",
    };
}
