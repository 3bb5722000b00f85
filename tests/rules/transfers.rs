//! Stitches that go from bed to bed: how loose they are, and how far the beds may be racked around it.

use super::{checked, told};
use wale::catalogue::Rule;

/// Twenty needles of each bed; the front bed has been cast on by hand.
const FRONT: &str = "in work front L10-R10, back L10-R10\nthread slate\nstitch size 5\ncast on wound front\n";

/// The rules that speak, each with what it says.
fn found(lines: &str) -> Vec<(&'static str, String)> {
    let checked = checked(&Rule::whole(lines));
    checked.findings.iter().map(|finding| (finding.rule.name, finding.what.clone())).collect()
}

fn silent(lines: &str) {
    let checked = checked(&Rule::whole(lines));
    assert!(checked.findings.is_empty(), "{lines}\n{}", told(&checked));
}

fn finds(lines: &str, expected: &[(&str, &str)]) {
    let found = found(lines);
    let found: Vec<(&str, &str)> = found.iter().map(|(rule, what)| (*rule, what.as_str())).collect();
    assert_eq!(found, expected, "{lines}");
}

const TIGHT: &str = "tight-transfer";

#[test]
fn looseness_goes_with_the_stitch() {
    let there_and_back = "gaiting opposite\ntransfer front L2-R2 to back\nrack 1 left\n\
                          transfer back L2-R2 to front, joining\nrack to centre\nrow front knit on loaded\nbind off front";
    silent(&format!("{FRONT}rows 4 front knit\nrow front knit, loosened 2\n{there_and_back}"));
    // The same stitches are tight both times when their row was ordinary; that is said once, at the first place.
    finds(
        &format!("{FRONT}rows 5 front knit\n{there_and_back}"),
        &[(TIGHT, "4 stitches are transferred from an ordinary row")],
    );
    // A loose row of the receiving bed does not loosen what comes to it, nor what goes on from there.
    finds(
        "in work front L10-R10, back L10-R9\nthread slate\ncast on zigzag\nrow both knit, loosened 1 back\n\
         gaiting opposite\ntransfer front L2-R2 to back, joining\nbind off both",
        &[(TIGHT, "4 stitches are transferred from an ordinary row")],
    );
}

#[test]
fn only_what_an_ordinary_row_made_is_told() {
    let transfer = "gaiting opposite\ntransfer front to back\nout of work front\nbind off back";
    finds(
        &format!("{FRONT}rows 2 front knit\nrow front knit on L10-L1, slip elsewhere, loosened 2\n{transfer}"),
        &[(TIGHT, "10 of 20 stitches are transferred from an ordinary row: front R1-R10")],
    );
    finds(
        &format!("{FRONT}rows 2 front knit\nhold front R10\nrow front knit, loosened 2\nrelease front\n{transfer}"),
        &[(TIGHT, "1 of 20 stitches is transferred from an ordinary row: front R10")],
    );
    // What lies joined elsewhere on the bed stays there too.
    silent(&format!(
        "{FRONT}rows 3 front knit\nmove front L5 1 right, joining\nout of work front L5\n\
         row front knit on R1-R10, slip elsewhere, loosened 2\ngaiting opposite\ntransfer front R1-R10 to back\n\
         bind off both"
    ));
    // Those that slipped may stay where they are.
    silent(&format!(
        "{FRONT}rows 2 front knit\nrow front knit on L10-L6, slip elsewhere, loosened 2\ngaiting opposite\n\
         transfer front L10-L6 to back\nbind off both"
    ));
    // What was wound, cast on or hung on by hand is not tight, whatever the last row was.
    silent(&format!(
        "{FRONT}rows 2 front knit\ngaiting opposite\nin work front R11, back R11\nnew loops front R11\n\
         transfer front R11 to back\nbind off both"
    ));
    // A loop that was caught in an ordinary row is carried over with the loose stitch that it lies on.
    finds(
        &format!(
            "{FRONT}row front knit, loosened 2\nrow front tuck on L2, knit elsewhere\nrow front tuck on L2, knit elsewhere, loosened 2\n{transfer}"
        ),
        &[(TIGHT, "1 of 20 stitches is transferred from an ordinary row: front L2")],
    );
}

#[test]
fn a_row_is_pointed_at_only_if_it_made_the_stitches() {
    let said = |lines: &str| {
        let checked = checked(&Rule::whole(&format!("{FRONT}{lines}\nbind off both")));
        let [finding] = &checked.findings[..] else { panic!("{lines}\n{}", told(&checked)) };
        let also: Vec<String> = finding.also.iter().map(|label| checked.sources.words(label.span).to_owned()).collect();
        (
            also,
            finding.why.contains("The last row on the front bed was knitted at its usual stitch size (size 5)"),
            finding.fix.is_some(),
        )
    };
    let transfer = "gaiting opposite\ntransfer front to back";
    assert_eq!(
        said(&format!("rows 2 front knit\nrow front knit\n{transfer}")),
        (vec!["row front knit".to_owned()], true, true)
    );
    // To loosen the last row would loosen none of the stitches of the row before.
    let half = "rows 2 front knit\nrow front knit on L10-L1, slip elsewhere";
    assert_eq!(said(&format!("{half}, loosened 1\n{transfer}")), (Vec::new(), false, false));
    assert_eq!(said(&format!("{half}\n{transfer}")), (Vec::new(), false, false));
    // The front bed made what goes back to it.
    let allowed =
        "allow tight-transfer because \"it is done slowly\" {\ntransfer front to back\n}\nrack 1 left\nrack to centre";
    assert_eq!(
        said(&format!("rows 2 front knit\nrow front knit\ngaiting opposite\n{allowed}\ntransfer back to front")),
        (vec!["row front knit".to_owned()], true, true)
    );
}

#[test]
fn the_first_row_after_the_size_was_raised_is_loose() {
    let rib = "in work front L10-R10, back L10-R9\nthread slate\nstitch size 3\ncast on zigzag\nstitch size 4\n";
    let transfer =
        "gaiting opposite\ntransfer back to front, joining\nout of work back\nrow front knit\nbind off front";
    let tight: &[(&str, &str)] = &[(TIGHT, "19 stitches are transferred from an ordinary row")];
    let rows = |rows: &str| format!("{rib}{rows}\n{transfer}");
    silent(&rows("rows 21 both knit\nstitch size 7\nrow both knit"));
    // By then it is the usual size.
    finds(&rows("rows 21 both knit\nstitch size 7\nrows 4 both knit"), tight);
    // Smaller, set back before the row, and as small again by the row's own size.
    finds(&rows("rows 21 both knit\nstitch size 3\nrow both knit"), tight);
    finds(&rows("rows 21 both knit\nstitch size 7\nstitch size 4\nrow both knit"), tight);
    finds(&rows("rows 21 both knit\nstitch size 7\nrow both knit, tightened 3"), tight);
    silent(&rows("rows 21 both knit\nstitch size 7\nrow both knit, tightened 1"));
    // Only on the bed where it was raised.
    finds(&rows("rows 21 both knit\nstitch size front 7\nrow both knit"), tight);
    silent(&rows("rows 21 both knit\nstitch size back 7\nrow both knit"));
    // A bed that waits in between is compared with its own last row.
    silent(&rows("rows 20 both knit\nstitch size 7\nrows 2 front knit\nrow back knit"));
    // A cast-on is made tightly and says nothing of the usual size.
    finds(&rows("stitch size 7\nrow both knit"), tight);
    // Not even after rows that were smaller, before the piece was cast on anew.
    let before = "rows 2 both knit\nbind off both\nstitch size 7\ncast on zigzag\nrow both knit";
    finds(&rows(before), tight);
    // In a repeat each pass begins with smaller rows, or is knitted at the one size throughout.
    let repeat = |rows: &str| {
        format!(
            "{FRONT}gaiting opposite\nrepeat 30 times {{\n{rows}\ntransfer front to back\nrack 1 left\nrack to centre\ntransfer back to front\n}}\nbind off front"
        )
    };
    silent(&repeat("stitch size 4\nrows 2 front knit\nstitch size 7\nrow front knit"));
    let tight: &[(&str, &str)] = &[(TIGHT, "20 stitches are transferred from an ordinary row")];
    finds(&repeat("stitch size 7\nrows 2 front knit"), tight);
    finds(&repeat("stitch size 7\nrow front knit"), tight);
}

#[test]
fn steps_are_counted_from_where_loops_came_to_run_across() {
    let two = "racked-two-steps";
    let moved = |lines: &str| {
        format!(
            "{FRONT}rows 3 front knit\nrow front knit, loosened 2\ngaiting opposite\n{lines}\nrack to centre\nrow front knit on loaded\nbind off front"
        )
    };
    // Until the transfer one bed is empty; then the loops are pulled by one step.
    silent(&moved("rack to 3 left\ntransfer front L2-R2 to back\nrack to 2 left\ntransfer back to front, joining"));
    finds(
        &moved("rack to 3 left\ntransfer front L2-R2 to back\nrack to 1 left\ntransfer back to front, joining"),
        &[(two, "2 steps of racking without a row between")],
    );
    // Two transfers: what the first laid across is pulled by both steps.
    finds(
        &moved(
            "rack to 3 left\ntransfer front L2-R2 to back\nrack to 2 left\ntransfer front L5 to back\nrack to 1 left\n\
             transfer back to front, joining",
        ),
        &[(two, "2 steps of racking without a row between")],
    );
    // Once all stitches are on one bed again, nothing is pulled, and a second transfer begins anew.
    silent(&moved(
        "rack to 1 left\ntransfer front L2-R2 to back\nrack to 2 left\ntransfer back to front, joining\nrack to 2 right\n\
         transfer front L8 to back\nrack 1 left\ntransfer back to front, joining",
    ));
    // A rib runs across from its last row on, whatever is transferred on the way.
    finds(
        "in work front L10-R10, back L10-R9\nthread slate\ncast on zigzag\nrow both knit, loosened 1\n\
         gaiting opposite\nrack 1 left\ntransfer front L2 to back, joining\nrack 1 left\nrack to centre\nbind off both",
        &[(two, "2 steps of racking without a row between")],
    );
}

#[test]
fn what_goes_straight_back_was_carried_in_vain() {
    let piece = |lines: &str| {
        let head = "rows 2 front knit\nrow front knit, loosened 2\ngaiting opposite\n";
        found(&format!("{FRONT}{head}{lines}\nrow front knit on loaded, back knit on loaded\nbind off both"))
            .into_iter()
            .filter(|(rule, _)| *rule == "there-and-back")
            .map(|(_, what)| what)
            .collect::<Vec<_>>()
    };
    let some = ["4 stitches go straight back to where they came from"];
    assert_eq!(piece("transfer front L2-R2 to back\ntransfer back to front"), some);
    // Whatever was set in between, and in whatever words it is said.
    assert_eq!(piece("transfer front L2-R2 to back\nstitch size 6\nmove back L2-R2 to front L2-R2"), some);
    let one = ["the stitch of front L9 goes straight back to where it came from"];
    let gap = "transfer front L9 to back\nrack 1 left\nrack to centre\n";
    assert_eq!(piece(&format!("{gap}move front L10 1 right\nmove front L9 1 left\ntransfer back L9 to front")), one);
    // Not when all of them, or others, or some of them only go, or they go elsewhere.
    for calm in [
        "transfer front L2-R2 to back\ntransfer back L2-R1 to front",
        "transfer front L2-R2 to back\ntransfer front L3 to back\ntransfer back to front",
        "transfer front L2-R2 to back\nrack 1 left\ntransfer back to front, joining\nrack to centre",
        "transfer front L2-R2 to back\nrow front knit on loaded, back knit\ntransfer back to front",
        "transfer front L2-R2 to back\nin work back R11\ntransfer back to front",
        "move front L9 1 right, joining\nmove front L8 1 left",
        "transfer front L2-R2 to back\ncross front L10 over L9\ntransfer back to front",
    ] {
        assert_eq!(piece(calm), [""; 0], "{calm}");
    }
}
