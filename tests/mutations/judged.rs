//! Mutants that are found by no rule and knit something else, looked at one by one: each is a pattern that somebody may
//! well want, and neither the text nor the machine says that it is not the one that was meant.

/// What a changed line makes of an example.
pub struct Judged {
    /// The example.
    pub example: &'static str,
    /// The kind of slip.
    pub kind: &'static str,
    /// Words of the line before it was changed.
    pub line: &'static str,
    /// Why it is a pattern of its own.
    pub why: &'static str,
}

const fn judged(example: &'static str, kind: &'static str, line: &'static str, why: &'static str) -> Judged {
    Judged { example, kind, line, why }
}

const ACTIONS: &str = "swap knit, tuck and slip on one bed";
const SWAPPED: &str = "swap two neighbouring lines";
const DOUBLED: &str = "double a statement";
const COUNT: &str = "change a count by one";
const NUMBER: &str = "change a number of a declaration";
const ROW: &str = "drop a row";
const SHIFT: &str = "shift a needle by one";

const OTHER_STITCH: &str = "a stitch of another name, knitted as well as this one";
const SLIPPED: &str = "rows on one bed while the other waits, as for a pleat or a pocket";
const LENGTH: &str = "the knitter chooses the length, and no promise is made of it";
const MAKE: &str = "the knitter chooses how many to make";
const LAST_ROWS: &str = "rows before the end, after a length that nobody counts";
const SLANT: &str = "a racked pattern that leans otherwise and comes back to the centre";
const EYELETS: &str = "eyelets at other places or leaning the other way";
const RELIEF: &str = "a relief of another width";
const SHORT_ROWS: &str = "a wedge of another slope";
const CAST_ON: &str = "the yarn still goes from bed to bed in the cast-on";

/// All of them.
pub const JUDGED: &[Judged] = &[
    judged("breakwater.wale", NUMBER, "gauge half-cardigan", LENGTH),
    judged("breakwater.wale", NUMBER, "let length", LENGTH),
    judged("breakwater.wale", DOUBLED, "work half-cardigan for length", LENGTH),
    judged("breakwater.wale", ACTIONS, "row to left front knit, back knit", OTHER_STITCH),
    judged("breakwater.wale", ACTIONS, "row to right front knit, back tuck", OTHER_STITCH),
    judged("breakwater.wale", DOUBLED, "row both knit, loosened 3", LAST_ROWS),
    judged("breakwater.wale", ACTIONS, "row both knit, loosened 3", SLIPPED),
    judged("foam-edging.wale", SHIFT, "let holes", EYELETS),
    judged("foam-edging.wale", NUMBER, "let holes", EYELETS),
    judged("foam-edging.wale", "swap left and right", "move front holes", EYELETS),
    judged("foam-edging.wale", COUNT, "move front holes", EYELETS),
    judged("foam-edging.wale", SWAPPED, "work foam 40 times", "a loosened row at the beginning"),
    judged("gull-wing.wale", SWAPPED, "rack 1", SLANT),
    judged("gull-wing.wale", ACTIONS, "front knit, back tuck", OTHER_STITCH),
    judged("gull-wing.wale", ACTIONS, "front tuck, back knit", OTHER_STITCH),
    judged("gull-wing.wale", ACTIONS, "rows 2 both knit", SLIPPED),
    judged("harbour-wall.wale", NUMBER, "gauge plain", LENGTH),
    judged("harbour-wall.wale", COUNT, "make 2", MAKE),
    judged("harbour-wall.wale", ACTIONS, "rows 23 both knit", SLIPPED),
    judged("harbour-wall.wale", ACTIONS, "row both knit, loosened 2", SLIPPED),
    judged("harbour-wall.wale", DOUBLED, "work plain for 40 cm", LENGTH),
    judged("harbour-wall.wale", COUNT, "work plain for 40 cm", LENGTH),
    judged("harbour-wall.wale", SWAPPED, "work plain for 40 cm", "a loosened row before the wall"),
    judged("harbour-wall.wale", ROW, "row front knit, loosened 2", LAST_ROWS),
    judged("harbour-wall.wale", DOUBLED, "row front knit, loosened 2", LAST_ROWS),
    judged("headland.wale", SWAPPED, "hold front rightmost 5", SHORT_ROWS),
    judged("headland.wale", COUNT, "hold front rightmost 5", SHORT_ROWS),
    judged("headland.wale", SWAPPED, "release front", SHORT_ROWS),
    judged("headland.wale", SWAPPED, "work wedge 12 times", "the two rows stand behind the wedges"),
    judged("lantern-hat.wale", NUMBER, "gauge rib", LENGTH),
    judged("lantern-hat.wale", NUMBER, "gauge crown", LENGTH),
    judged("lantern-hat.wale", NUMBER, "let brim", LENGTH),
    judged("lantern-hat.wale", NUMBER, "let height", LENGTH),
    judged("lantern-hat.wale", DOUBLED, "row both knit", "a length of single rows, rounded to pairs of them"),
    judged("lantern-hat.wale", DOUBLED, "row front knit", "a length of single rows, rounded to pairs of them"),
    judged("lantern-hat.wale", ACTIONS, "row both knit", SLIPPED),
    judged("lantern-hat.wale", DOUBLED, "work rib for brim", LENGTH),
    judged("lantern-hat.wale", DOUBLED, "work crown for height", LENGTH),
    judged("lantern-hat.wale", ROW, "rows 2 front knit", LAST_ROWS),
    judged("lantern-hat.wale", COUNT, "rows 2 front knit", LAST_ROWS),
    judged("lantern-hat.wale", DOUBLED, "rows 2 front knit", LAST_ROWS),
    judged("lobster-pot.wale", SHIFT, "let ribs", "as many ribs, one needle farther to the left"),
    judged("lobster-pot.wale", ACTIONS, "rows 29 both knit", SLIPPED),
    judged("lobster-pot.wale", ACTIONS, "row both knit, loosened 2", SLIPPED),
    judged("mooring-cuff.wale", COUNT, "make 2", MAKE),
    judged("mooring-cuff.wale", "change a tile", "in work front", "a rib of another set-out"),
    judged("mooring-cuff.wale", "rack the other way", "rack 1 right", CAST_ON),
    judged("mooring-cuff.wale", SWAPPED, "tubular 2 rows", "each bed knits alone, so its place does not matter"),
    judged("mooring-cuff.wale", ACTIONS, "rows 40 both knit", SLIPPED),
    judged("mooring-cuff.wale", ACTIONS, "row both knit, loosened 3", "another last row before the waste yarn"),
    judged("bollard-room-sampler.wale", ACTIONS, "row to", OTHER_STITCH),
    judged(
        "bollard-room-sampler.wale",
        "swap front and back",
        "row to right front knit",
        "the same stitch from behind",
    ),
    judged("bollard-room-sampler.wale", ACTIONS, "rows 2 both knit", SLIPPED),
    judged("bollard-room-sampler.wale", ACTIONS, "row both knit, loosened 3", SLIPPED),
    judged("quay.wale", NUMBER, "gauge milano", LENGTH),
    judged("quay.wale", COUNT, "make 6", MAKE),
    judged("quay.wale", ROW, "row", OTHER_STITCH),
    judged("quay.wale", DOUBLED, "row", OTHER_STITCH),
    judged("quay.wale", SWAPPED, "row", OTHER_STITCH),
    judged("quay.wale", ACTIONS, "row front knit, back knit", OTHER_STITCH),
    judged("quay.wale", "swap front and back", "row", OTHER_STITCH),
    judged("quay.wale", DOUBLED, "work milano for 10 cm", LENGTH),
    judged("quay.wale", COUNT, "work milano for 10 cm", LENGTH),
    judged("shingle.wale", NUMBER, "gauge shingle", LENGTH),
    judged("shingle.wale", DOUBLED, "work shingle for 30 cm", LENGTH),
    judged("shingle.wale", COUNT, "work shingle for 30 cm", LENGTH),
    judged("shingle.wale", ROW, "row front knit, loosened 2", LAST_ROWS),
    judged("shingle.wale", DOUBLED, "row front knit, loosened 2", LAST_ROWS),
    judged("tide-marks.wale", SHIFT, "work tide-mark (middle", RELIEF),
];
