//! Work at the machine that needs care.

use super::{Page, Sort, page};

const MANUAL: &str =
    "Your machine's manual comes first. What stands here is common practice, no source, where no other is named.";

pub(super) const WORK: &[Page] = &[
    page(
        Sort::Work,
        "transfer",
        &[
            MANUAL,
            "A transfer takes stitches to the facing needles of the other bed. A stitch must reach across, so it is \
             knitted 1 to 4 numbers larger than plain rows: loosen the row before (`row front knit, loosened 2`), or, where \
             every row is transferred, set the size larger once. No needle is held.",
            "Before it: set the beds so that the hooks of the two nearly touch and never strike. Raise a few empty needles on \
             both beds, look along them, and push them back. The needles that take a stitch are in work. Hang edge springs \
             or small weights near both ends, and leave the weights on unless your manual takes them off.",
            "The carriage: set it to what is to go (`transfer carriage takes every stitch`), start it on its side (most often \
             at the right to the back bed, at the left to the front bed), hold it with both hands, firmly towards the rails, \
             and slide it slowly. It moves neither the yarn nor the row counter.",
            "By hand: draw the needle forward until its stitch lies behind the open latch, hook the tool on, push the needle \
             back, and hang the stitch in the open hook opposite.",
            "After it: look at every hook. A stitch behind a latch or beside a needle falls in the next row. Catch what fell \
             with a latch tool, work it up if it ran, and hang it on its needle before anything moves. Put the needles out of \
             work that only took care of the ends.",
            "What it tells you: two stitches caught together, the size was too large; dropped stitches, it was too small; \
             drops at one end, that edge wants more weight.",
        ],
    )
    .also(&["transfers", "transferred"])
    .keys(&["transfer back to front", "transfer front", "transfer carriage takes", "transfer place"])
    .rules(&["not-opposite", "tight-transfer", "loose-transfer", "held-transfer", "not-by-carriage", "lost-stitch", "there-and-back"])
    .pages(&["transfer carriage", "jam", "symptoms", "cautions"]),
    page(
        Sort::Work,
        "jam",
        &[
            MANUAL,
            "Never force a carriage that stops. Hooks bend and posts break long before it goes through.",
            "A carriage for rows: keep hold of it, take the weight off the fabric, and look along the beds for the needle that \
             is out of line, the knot, or the two hooks that struck. Ease that needle, and bring the carriage back.",
            "A transfer carriage: draw its guide out, lift it off, and free the hook that holds it. It was not held firmly \
             towards the rails, the yarn does not stretch, the stitches are too small, or the beds do not stand right.",
            "Then look at every needle before the next row: a bent one, or a latch that does not swing, is changed.",
        ],
    )
    .also(&["jams"])
    .rules(&["facing-needles", "needle-in-the-way", "tuck-pile", "stitch-pile", "tight-transfer"])
    .pages(&["transfer", "care", "cautions"]),
    page(
        Sort::Work,
        "care",
        &[
            MANUAL,
            "After use: brush the lint from the channels of the beds and the carriage, or draw it off with a vacuum cleaner; \
             do not blow it in. Wipe the rails and the needles' feet with a little solvent on cotton.",
            "Solvents burn and their vapour harms: open a window, no flame or spark, gloves, and never into anything electric. \
             Oily rags can heat up by themselves: keep them in a closed metal bin, away from children.",
            "Then a thin film of light oil on what slides, wiped off again: it must never look oily, or the yarn takes it up. \
             Knit the first rows with waste yarn.",
            "A needle that is bent, or whose latch is stiff, is changed. Leave no tool on the beds.",
        ],
    )
    .also(&["cleaning", "oil"])
    .pages(&["jam", "cautions"]),
    page(
        Sort::Work,
        "cautions",
        &[
            MANUAL,
            "Hooks, combs and tools are sharp. Do not run a hand along needles that stand forward, and never catch a comb \
             that falls.",
            "The carriage pinches, and so do the beds where one is moved. Tie back sleeves, hair and jewellery.",
            "Weights fall when stitches drop. Keep your feet clear of them.",
            "The machine is heavy and long: two people lift it, and its clamps are looked at before work.",
            "Rest hands and eyes every half hour. Children work with somebody beside them.",
        ],
    )
    .also(&["safety"])
    .pages(&["care", "jam"]),
    page(
        Sort::Work,
        "symptoms",
        &[
            "What is seen at the machine or in the fabric. `wale explain` and one of the names below says what it most often \
             means, what to do, and which rules find it before anything is knitted.",
        ],
    )
    .also(&["symptom"])
    .pages(&[
        "dropped stitch",
        "stitches caught together",
        "drops at one end",
        "stiff carriage",
        "hooks strike",
        "column of extra loops",
        "loose edge",
        "long loops across",
        "leaning rib",
        "slack stitch at one side",
        "everything falls off",
    ]),
    page(
        Sort::Work,
        "words",
        &["The words of the trade that have a page. `wale explain` and one of them says what it means."],
    )
    .pages(&["front bed", "gaiting", "transfer", "symptoms"]),
];
