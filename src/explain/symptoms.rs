//! What is seen when something went wrong, what it most often means, and what to do.

use super::{Page, Sort, page};

const fn symptom(name: &'static str, says: &'static [&'static str]) -> Page {
    page(Sort::Symptom, name, says)
}

pub(super) const SYMPTOMS: &[Page] = &[
    symptom(
        "dropped stitch",
        &[
            "A ladder below one needle, and one stitch fewer. After a transfer: the stitch was too small to reach, was left \
             behind the latch, or had no needle in work to go to.",
            "Stop before anything moves. Catch the stitch with a latch tool, work it up rung by rung, and hang it in its hook. \
             Then loosen the row before the next transfer a little more.",
        ],
    )
    .also(&["dropped stitches"])
    .rules(&["lost-stitch", "tight-transfer", "not-opposite"])
    .pages(&["transfer", "ladder"]),
    symptom(
        "stitches caught together",
        &[
            "Two stitches on one hook where one was meant, in pairs along the bed after a transfer: they were too large, and \
             the tool took the neighbour too.",
            "Part them with the hand tool before the next row, and loosen less next time.",
        ],
    )
    .rules(&["loose-transfer", "doubled-stitch", "stitch-pile"])
    .pages(&["transfer", "join"]),
    symptom(
        "drops at one end",
        &[
            "Stitches drop at one edge only: nothing pulls the fabric down there.",
            "Hang an edge spring or a small weight near that end, and move it up as the piece grows.",
        ],
    )
    .rules(&["edge-tuck", "lone-edge"])
    .pages(&["weight", "transfer"]),
    symptom(
        "stiff carriage",
        &[
            "The carriage goes hard: the stitch is too small for the yarn, too many loops lie on a needle, or lint and old oil \
             sit in the rails.",
            "Do not push. Knit a row of larger stitches, let needles that tuck knit off, or clean the machine.",
        ],
    )
    .rules(&["tuck-pile", "stitch-pile", "size-range"])
    .pages(&["jam", "care", "stitch size"]),
    symptom(
        "hooks strike",
        &[
            "It clicks, and stops at once: a needle of each bed stands face to face, and both are moved.",
            "Stop. Look at gaiting and racking, and at needles that a sleeve brought forward; change needles that are bent.",
        ],
    )
    .rules(&["facing-needles", "needle-in-the-way"])
    .pages(&["gaiting", "racking", "jam"]),
    symptom(
        "column of extra loops",
        &[
            "A needle that was emptied stayed in work and catches the yarn in every row.",
            "Let its loops fall and put the needle out of work, or say that they are meant.",
        ],
    )
    .rules(&["unplanned-loop", "adjacent-empties"])
    .pages(&["in work", "eyelet"]),
    symptom(
        "loose edge",
        &[
            "A loop hangs out at the edge: the last needle of a row tucked, the yarn was not drawn back, or the row began far \
             from where the yarn hangs.",
            "Let each row end on a needle that knits, and draw the yarn back before the carriage returns.",
        ],
    )
    .rules(&["edge-tuck", "yarn-not-at-this-side", "lone-edge"])
    .pages(&["tuck", "yarn"]),
    symptom(
        "long loops across",
        &[
            "Yarn lies free over many needles: they slip, or they are held on the side where the carriage stands.",
            "Let a needle between them take the yarn, or hold needles on the side away from the carriage.",
        ],
    )
    .rules(&["long-float", "held-at-carriage-side", "tubular-floats"])
    .pages(&["float", "hold"]),
    symptom(
        "leaning rib",
        &[
            "The ribs lean where they should stand upright: the bed was racked and not racked back.",
            "Rack back slowly, with the carriage clear of the needles at one side.",
        ],
    )
    .rules(&["racking-strain", "racked-two-steps", "no-way-back", "open-repeat"])
    .pages(&["racking"]),
    symptom(
        "slack stitch at one side",
        &[
            "One column is slack, always on the same side: lint under a brush of the carriage, or a worn needle.",
            "Clean the carriage, and change the needle if it stays so.",
        ],
    )
    .pages(&["care"]),
    symptom(
        "everything falls off",
        &[
            "The whole row drops: there was no yarn in the feeder.",
            "Take the weights off at once, take the carriage away, and hang the open stitches on their needles one by one.",
        ],
    )
    .rules(&["no-yarn", "left-on-needles"])
    .pages(&["yarn", "weight"]),
];
