//! The words of the trade, one sentence each.

use super::{Page, Sort, page};

const fn word(name: &'static str, says: &'static [&'static str]) -> Page {
    page(Sort::Word, name, says)
}

pub(super) const WORDS: &[Page] = &[
    word("back bed", &["The bed farther from you; its stitches show their purl side to you as they hang."])
        .also(&["back"])
        .keys(&["back"])
        .pages(&["front bed"]),
    word("bed", &["A rail with a row of needles; the machine has two, the front bed nearer to you and the back bed behind it."])
        .also(&["beds"])
        .keys(&["beds", "front"])
        .pages(&["front bed", "back bed"]),
    word("bind off", &["To lock the last stitches, so that they do not run when they leave the needles."])
        .also(&["bound off", "cast off", "bind-off"])
        .keys(&["bind off"])
        .rules(&["no-needle-found", "left-on-needles"]),
    word("carriage", &["What you slide along the beds: one pass moves every needle in work and lays the yarn."])
        .also(&["carriages"])
        .keys(&["carriage"])
        .rules(&["wrong-side"])
        .pages(&["jam", "care"]),
    word("cast on", &["To make the first loops on empty needles."])
        .also(&["cast-on"])
        .keys(&["cast on"])
        .rules(&["cast-on-shares-a-loop"])
        .pages(&["zigzag"]),
    word("chart", &["A picture with one line for each row; the lowest line is knitted first."])
        .also(&["charts"])
        .keys(&["chart", "follow"]),
    word("comb", &["A toothed bar that is hung on the first row and carries the weights."]).pages(&["weight"]).keys(&["zigzag"]),
    word("course", &["One line of loops across the fabric; it may take several rows to make."]).also(&["courses"]),
    word("cross", &["To let two groups of stitches side by side change places, as in a cable."])
        .also(&["crossing", "crossed", "cable"])
        .keys(&["cross"])
        .rules(&["wide-cable"]),
    word("decrease", &["To lay an edge stitch, or a group of them, one needle in, so that there are fewer stitches."])
        .also(&["decreased", "decreases"])
        .keys(&["decrease"])
        .rules(&["doubled-stitch", "far-move"]),
    word("eyelet", &["A hole made on purpose: an emptied needle stays in work and catches the yarn in the next row."])
        .also(&["eyelets"])
        .rules(&["eyelet-becomes-ladder"]).shown(&["move front L1 1 left, joining", "row front knit, new loops"]),
    word("float", &["The yarn that lies free in front of needles that slip."])
        .also(&["floats"])
        .shown(&["row front slip on L2-R1, knit elsewhere"])
        .keys(&["longest float"])
        .rules(&["long-float", "tubular-floats"]),
    word("free pass", &["The carriage goes to the other side without yarn, and no needle knits."]).keys(&["free pass"]),
    word("front bed", &["The bed nearer to you; its stitches show their knit side to you as they hang."])
        .also(&["front"])
        .keys(&["front"])
        .pages(&["back bed"]),
    word("full cardigan", &["A rib in which the beds take turns: one knits while the other tucks, and in the next row the other way round."])
        .also(&["full-cardigan"])
        .shown(&["row front knit, back tuck", "row front tuck, back knit"])
        .pages(&["rib", "half cardigan", "tuck"]),
    word("garter", &["Rows that show the purl side on both faces: between two rows all stitches go to the other bed."])
        .shown(&["transfer front to back", "transfer back to front"])
        .rules(&["tight-transfer"])
        .pages(&["transfer", "purl side"]),
    word("gaiting", &["How the beds stand to each other: between, with the needles of one facing the gaps of the other, or opposite, face to face."])
        .keys(&["gaiting"])
        .rules(&["facing-needles", "not-opposite"])
        .pages(&["half step"]),
    word("gauge", &["How many stitches and rows make 10 cm, counted on a swatch."]).keys(&["gauge"]).pages(&["swatch"]),
    word("half cardigan", &["A rib in which one bed tucks in every second row."])
        .also(&["half-cardigan"])
        .shown(&["row front knit, back knit", "row front knit, back tuck"])
        .pages(&["rib", "tuck"]),
    word("half step", &["Half the way from needle to needle, by which one bed moves from face to face to facing the gaps; which way it goes, the profile says."])
        .keys(&["half step", "gaiting"])
        .pages(&["gaiting"]),
    word("hand tool", &["A handle with an eye, or several, that takes a stitch from one needle to another."])
        .also(&["tool"])
        .keys(&["move"]),
    word("hold", &["To put needles forward, so that they keep their stitches while the carriage passes."])
        .also(&["held", "holds"])
        .keys(&["hold", "release"])
        .rules(&["hold-left-on", "held-transfer", "held-at-carriage-side", "stretched-hold"]),
    word("hook", &["The end of a needle, which catches the yarn; it is sharp."]).also(&["hooks"]),
    word("in work", &["A needle is in work where the carriage moves it, and out of work where it does not."])
        .also(&["out of work", "into work"])
        .keys(&["in work", "out of work"]),
    word("increase", &["To bring one more needle into work at an edge with a new loop on it."])
        .also(&["increases"])
        .keys(&["increase"]),
    word("interlock", &["Two ribs through each other: with the needles face to face every second one of each bed knits, and in the next row the others."])
        .shown(&["gaiting opposite", "row front knit on \"|.\", slip elsewhere, back knit on \".|\", slip elsewhere"])
        .rules(&["facing-needles"])
        .pages(&["rib", "gaiting"]),
    word("join", &["To lay a stitch on another one, so that the two are knitted together."])
        .also(&["joining", "joined"])
        .keys(&["joining"])
        .rules(&["doubled-stitch", "stitch-pile"]),
    word("knit", &["A needle knits when it draws a new loop through what it holds."])
        .also(&["knits", "knitted"])
        .keys(&["knit"]),
    word("knit side", &["The side on which stitches show as little Vs; those of the front bed show it to you as they hang."])
        .pages(&["purl side", "front bed"]),
    word("ladder", &["A column of bare strands, where a stitch ran down or a needle stands out of work."]).also(&["ladders"]).keys(&["drop"]),
    word("latch", &["The little gate that closes the hook of a needle; it stands open before a stitch is hung in the hook."])
        .also(&["latches"]),
    word("loop", &["A bend of yarn on a needle; it is a stitch once it holds another one, or was cast on."])
        .also(&["loops"])
        .keys(&["new loops"])
        .rules(&["unplanned-loop"]),
    word("milano", &["A rib of a row on both beds and then a row on each bed alone."]).pages(&["rib", "tubular"]).shown(&["row both knit", "row front knit", "row back knit"]),
    word("move", &["To take stitches along their bed, or to needles that are named, with the hand tool."])
        .also(&["moves"])
        .keys(&["move"])
        .rules(&["far-move"])
        .pages(&["hand tool"]),
    word("needle", &["A hook with a latch that slides in its bed, holds a loop, and draws a new one through it."])
        .also(&["needles"])
        .keys(&["needles"]),
    word("ottoman", &["A rib with cords across: after a row on both beds come some rows on one bed, while the other slips (D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 13: so called in the USA)."])
        .shown(&["row both knit", "rows 3 front knit"])
        .pages(&["ripple", "slip"]),
    word("pitch", &["How far the needles of a bed stand apart."]).keys(&["pitch"]),
    word("purl side", &["The side on which the heads of stitches show as little bows; those of the back bed show it to you as they hang."])
        .also(&["purl"])
        .pages(&["knit side", "back bed", "garter"]),
    word("racking", &["Moving one bed sideways by whole needles, so that the loops between the beds lean."])
        .also(&["rack", "racked"])
        .keys(&["rack", "racking"])
        .rules(&["racking-range", "racking-strain", "no-slant"]),
    word("rib", &["A fabric with stitches on both beds."]).also(&["ribs"]).shown(&["row both knit"]).keys(&["half-cardigan"]),
    word("ripple", &["A rib with soft cords across: after a row on both beds come some rows that one bed knits and the other tucks (D. J. Spencer, Knitting Technology, 3rd ed., 2001, ch. 13: horizontal ripple)."])
        .also(&["ripples", "horizontal ripple"])
        .shown(&["row both knit", "rows 3 front knit, back tuck"])
        .rules(&["tuck-pile", "edge-tuck"])
        .pages(&["ottoman", "tuck"]),
    word("row", &["One pass of the carriage."]).also(&["rows"]).keys(&["row", "rows"]),
    word("row counter", &["What counts the passes of the carriage; two passes can make one course, so it does not count those."])
        .also(&["counter"])
        .keys(&["counter"])
        .rules(&["count-mismatch"]),
    word("selector", &["What picks single needles of a bed for a row."])
        .also(&["selectors"])
        .keys(&["selectors"])
        .rules(&["no-selector", "not-by-carriage"]),
    word("set-out", &["Which needles of which bed are in work."]).keys(&["in work"]),
    word("short rows", &["Rows over a part of the needles while the others are held, so that the fabric grows there alone."])
        .also(&["short row"])
        .pages(&["hold"]).keys(&["hold front", "release"]),
    word("slip", &["A needle slips when the carriage passes it and it neither takes the yarn nor lets its loop go."])
        .also(&["slips"])
        .pages(&["float"]).shown(&["row front slip on L4-R4, knit elsewhere"]).rules(&["long-float"]),
    word("stitch", &["A loop that is drawn through another one, or was cast on."]).also(&["stitches"]).keys(&["stitches"]),
    word("stitch size", &["How large the loops are that the carriage draws; a larger number makes a larger stitch."])
        .also(&["loosened", "tightened", "size"])
        .keys(&["stitch size", "stitch sizes", "plain rows", "transfer at"])
        .rules(&["size-range", "size-left-changed", "tight-transfer", "loose-transfer"]),
    word("swatch", &["A piece knitted to be counted, washed and left to rest as the work will be."]).pages(&["gauge"]).keys(&["gauge"]),
    word("transfer carriage", &["A carriage of its own that takes the stitches of one bed to the facing needles of the other."])
        .keys(&["transfer carriage"])
        .rules(&["not-by-carriage"])
        .pages(&["transfer"]),
    word("tubular", &["Knitted round and round: a row on one bed, then a row on the other, joined at both edges."])
        .keys(&["tubular"])
        .rules(&["tubular-floats"]),
    word("tuck", &["A needle tucks when it takes the yarn and keeps what it holds, so that two loops lie on it."])
        .also(&["tucks", "tucked"])
        .keys(&["tuck", "tucks"])
        .rules(&["tuck-pile", "adjacent-tucks", "edge-tuck", "unsupported-tuck"]),
    word("wale", &["A column of loops, one above the other."]).also(&["wales"]),
    word("waste yarn", &["Other yarn on which stitches wait, or on which a piece begins, and which is pulled out later."])
        .keys(&["waste yarn"]),
    word("weight", &["What pulls the fabric down, so that every loop comes off its needle; keep your feet clear."])
        .also(&["weights"])
        .pages(&["comb", "cautions"]).keys(&["weights"]),
    word("yarn", &["What is knitted; it hangs on the side where its last row ended."])
        .keys(&["yarn", "thread"])
        .rules(&["no-yarn", "yarn-not-at-this-side"]),
    word("zigzag", &["A first row in which the yarn goes from bed to bed, from each needle to the next of the other bed."])
        .keys(&["zigzag"])
        .rules(&["cast-on-shares-a-loop"]),
];
