//! Needle words, pictures of needles, and what is in both or either.

use super::{Page, operation, rules, said};
use crate::beds::{Needle, NeedleSet, Operation, Pick, Side};
use crate::syntax::tree::{BedWord, Kind, NeedlesWord, Statement};

fn set(first: (Side, u32), last: (Side, u32)) -> NeedleSet {
    let needle = |(side, number)| Needle::new(side, number).expect("a needle");
    NeedleSet::span(needle(first), needle(last))
}

/// The needles that `hold front NEEDLES` picks.
fn pick(page: &Page, before: Vec<Statement>, needles: &str) -> Pick {
    let hold = page.line(Kind::Needles(NeedlesWord::Hold, vec![page.target(BedWord::Front, Some(needles))]));
    let steps = page.steps(before, vec![hold]);
    let Operation::Hold(targets) = operation(&steps[0]) else { panic!("a hold") };
    targets.front.clone().expect("the front bed")
}

fn wrong(page: &Page, needles: &str) -> (Vec<&'static str>, String) {
    let hold = page.line(Kind::Needles(NeedlesWord::Hold, vec![page.target(BedWord::Front, Some(needles))]));
    let (programs, findings) = page.plan_piece(vec![], vec![hold]);
    assert!(super::only_gaps(&programs), "a line that is wrong is left out");
    (rules(&findings), findings.iter().map(said).collect())
}

#[test]
fn a_word_behind_a_bed_that_is_no_name_asks_for_needles() {
    let (rules, said) = wrong(&Page::new(), "middles");
    assert_eq!(rules, ["unknown-name"]);
    assert!(said.contains("`leftmost 2`") && !said.contains("40 rows"), "{said}");
}

#[test]
fn needles_count_from_the_centre() {
    let both = set((Side::Left, 30), (Side::Right, 29));
    for words in ["L30-R29", "R29-L30"] {
        assert_eq!(pick(&Page::new(), vec![], words), Pick::These(both), "{words}");
    }
    assert_eq!(pick(&Page::new(), vec![], "30 each side"), Pick::These(NeedleSet::each_side(30)));
    assert_eq!(pick(&Page::new(), vec![], "L5"), Pick::These(set((Side::Left, 5), (Side::Left, 5))));
    let page = Page::new();
    let half = page.set("half", "30");
    assert_eq!(pick(&page, vec![half], "half each side"), Pick::These(NeedleSet::each_side(30)));
}

#[test]
fn needle_words_have_sizes() {
    let page = Page::new();
    let hold =
        page.line(Kind::Needles(NeedlesWord::Hold, vec![page.target(BedWord::Front, Some("L30 (36)-R29 (35)"))]));
    let before = vec![page.sizes(&["small", "large"]), page.machine("mooring", "90"), page.piece(vec![hold])];
    let (programs, findings) = page.plan(before);
    assert_eq!(rules(&findings), Vec::<&str>::new());
    let widths: Vec<u32> = programs
        .iter()
        .map(|program| match operation(&program.pieces[0].steps[0]) {
            Operation::Hold(targets) => match &targets.front {
                Some(Pick::These(set)) => set.len(),
                other => panic!("{other:?}"),
            },
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(widths, [59, 71]);
}

#[test]
fn the_bed_has_ends_and_no_zero() {
    let (rules, text) = wrong(&Page::new(), "L91-R5");
    assert_eq!(rules, ["off-bed"]);
    assert!(text.contains("L91") && text.contains("ends at L90"), "{text}");
    let (rules, text) = wrong(&Page::new(), "L0");
    assert_eq!(rules, ["off-bed"]);
    assert!(text.contains("there is no zero"), "{text}");
    assert_eq!(wrong(&Page::new(), "100 each side").0, ["off-bed"]);
    assert_eq!(wrong(&Page::new(), "L4294967297").0, ["off-bed"]);
}

#[test]
fn a_named_selection_is_checked_where_it_is_used() {
    let page = Page::new();
    let hold = page.line(Kind::Needles(NeedlesWord::Hold, vec![page.target(BedWord::Front, Some("wide"))]));
    let (_, findings) = page.plan_piece(vec![page.set("wide", "L100-R100")], vec![hold]);
    assert_eq!(rules(&findings), ["off-bed"]);
}

#[test]
fn a_tile_fits_or_offers_its_neighbours() {
    let Pick::These(found) = pick(&Page::new(), vec![], "\"|..|\" over L30-R30") else { panic!("known needles") };
    assert_eq!(found.len(), 30);
    assert!(found.contains(Needle::new(Side::Left, 30).expect("a needle")));
    assert!(!found.contains(Needle::new(Side::Left, 29).expect("a needle")));
    let (rules, text) = wrong(&Page::new(), "\"|..|\" over L30-R31");
    assert_eq!(rules, ["ragged-repeat"]);
    assert!(text.contains("L30-R30 (60 needles)") && text.contains("L32-R32 (64 needles)"), "{text}");
    let (_, text) = wrong(&Page::new(), "\"|..|\" over L90-R89");
    assert!(text.contains("L88-R88 (176 needles)") && text.contains("L90-R90 (180 needles)"), "{text}");
    assert_eq!(wrong(&Page::new(), "\"|x|\"").0, ["wrong-mark"]);
    assert_eq!(wrong(&Page::new(), "\"\"").0, ["wrong-mark"]);
}

#[test]
fn every_so_many() {
    let Pick::These(found) = pick(&Page::new(), vec![], "every 3 over L2-R2") else { panic!("known needles") };
    assert_eq!(found.to_string(), "L2, R2");
    assert_eq!(pick(&Page::new(), vec![], "every 3"), Pick::Every(3));
    assert_eq!(wrong(&Page::new(), "every 0").0, ["out-of-range"]);
}

#[test]
fn what_is_known_is_worked_out_and_the_rest_is_kept() {
    assert_eq!(pick(&Page::new(), vec![], "L10-R10 and L5-R20").to_string_for_test(), "L5-R10");
    assert_eq!(pick(&Page::new(), vec![], "L10-L8 or R8").to_string_for_test(), "L10-L8, R8");
    assert!(matches!(pick(&Page::new(), vec![], "all but L5"), Pick::AllBut(_)));
    assert!(matches!(pick(&Page::new(), vec![], "loaded and every 2"), Pick::And(_)));
    assert_eq!(wrong(&Page::new(), "L1 and L2 or L3").0, ["mixed-and-or"]);
    assert_eq!(wrong(&Page::new(), "5").0, ["unit-mismatch"]);
    assert_eq!(wrong(&Page::new(), "all but 5").0, ["unit-mismatch"]);
}

#[test]
fn selections_cannot_grow_without_end() {
    let page = Page::new();
    let mut lets = vec![page.set("s0", "loaded and every 2")];
    for at in 0..200 {
        lets.push(page.set(&format!("s{}", at + 1), &format!("s{at} or every {}", at % 50 + 2)));
    }
    let (_, findings) = page.plan(lets);
    assert_eq!(rules(&findings), ["too-large"]);
}

trait ForTest {
    fn to_string_for_test(&self) -> String;
}

impl ForTest for Pick {
    fn to_string_for_test(&self) -> String {
        match self {
            Self::These(set) => set.to_string(),
            other => format!("{other:?}"),
        }
    }
}
