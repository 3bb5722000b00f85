//! What lies beside what on the way of the yarn, against a plain list of the needles that take it.
//!
//! The rules ask whole beds at once first, which is quick; here every needle is walked to, one by one.

use super::programs::only_piece;
use proptest::prelude::*;
use wale::beds::{Bed, Needle, NeedleSet, Side};
use wale::finding::Finding;
use wale::rules::check_piece;

/// Needles of each bed: L4 to R4.
const WIDTH: usize = 8;

/// What a needle does in the row; `Out` is out of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Does {
    Knit,
    Tuck,
    Slip,
    Out,
}

#[derive(Debug, Clone)]
struct Beds {
    front: Vec<Does>,
    back: Vec<Does>,
    opposite: bool,
    /// Places by which the back bed stands to the right.
    racked: i32,
    most_tucks: usize,
}

/// A needle that takes the yarn: its place in half needles from the left end of the front bed.
#[derive(Debug, Clone, Copy)]
struct Taker {
    place: i32,
    bed: Bed,
    at: usize,
    does: Does,
}

fn name(at: usize) -> String {
    let half = WIDTH / 2;
    if at < half { format!("L{}", half - at) } else { format!("R{}", at - half + 1) }
}

impl Beds {
    fn of(&self, bed: Bed) -> &[Does] {
        if bed == Bed::Front { &self.front } else { &self.back }
    }

    fn place(&self, bed: Bed, at: usize) -> i32 {
        match bed {
            Bed::Front => 2 * at as i32,
            Bed::Back => 2 * (at as i32 + self.racked) + i32::from(!self.opposite),
        }
    }

    /// The needles that take the yarn, from left to right.
    fn takers(&self) -> Vec<Taker> {
        let mut takers = Vec::new();
        for bed in Bed::BOTH {
            for (at, &does) in self.of(bed).iter().enumerate() {
                if matches!(does, Does::Knit | Does::Tuck) {
                    takers.push(Taker { place: self.place(bed, at), bed, at, does });
                }
            }
        }
        takers.sort_by_key(|taker| taker.place);
        takers
    }

    /// The needles that tuck without a knitting one beside them. Neighbours of one bed that tuck together are one
    /// tuck, unless they are more than may do so.
    fn unsupported(&self) -> Vec<(Bed, usize)> {
        let takers = self.takers();
        let mut alone = Vec::new();
        let mut first = 0;
        while first < takers.len() {
            let mut last = first;
            while last + 1 < takers.len()
                && [last, last + 1].iter().all(|&it| takers[it].does == Does::Tuck)
                && takers[last].bed == takers[last + 1].bed
                && takers[last].at + 1 == takers[last + 1].at
            {
                last += 1;
            }
            let knits = |index: Option<usize>| {
                index.and_then(|index| takers.get(index)).is_some_and(|taker| taker.does == Does::Knit)
            };
            let supported = knits(first.checked_sub(1)) || knits(Some(last + 1));
            if takers[first].does == Does::Tuck && !supported && last - first < self.most_tucks {
                alone.extend(takers[first..=last].iter().map(|taker| (taker.bed, taker.at)));
            }
            first = last + 1;
        }
        alone
    }

    fn text(&self) -> String {
        let list = |bed: Bed, wanted: &dyn Fn(Does) -> bool| {
            let named: Vec<String> = (0..WIDTH).filter(|&at| wanted(self.of(bed)[at])).map(name).collect();
            (!named.is_empty()).then(|| named.join(" or "))
        };
        let beds = |wanted: &dyn Fn(Does) -> bool| -> Vec<String> {
            Bed::BOTH.iter().filter_map(|&bed| Some(format!("{bed} {}", list(bed, wanted)?))).collect()
        };
        let in_work = beds(&|does| does != Does::Out).join(", ");
        let work = |bed: Bed| {
            let tucks = list(bed, &|does| does == Does::Tuck).map(|needles| format!("tuck on {needles}, "));
            let slips = list(bed, &|does| does == Does::Slip).map(|needles| format!("slip on {needles}, "));
            format!("{bed} {}{}knit elsewhere", tucks.unwrap_or_default(), slips.unwrap_or_default())
        };
        let rack = match self.racked {
            0 => String::new(),
            steps => format!("rack to {} {}\n", steps.abs(), if steps < 0 { "left" } else { "right" }),
        };
        let gaiting = if self.opposite { "gaiting opposite\n" } else { "" };
        format!(
            "machine small {{\n    needles {WIDTH} each side\n    racking back bed, 5 left to 5 right\n    most tucks 9\n    \
             most adjacent tucks {}\n}}\nyarn slate {{}}\npiece \"Swatch\" {{\nin work {in_work}\nthread slate\n{}\n{gaiting}{rack}row {}, {}\n}}\n",
            self.most_tucks,
            beds(&|does| does != Does::Out)
                .iter()
                .map(|needles| format!("new loops {needles}"))
                .collect::<Vec<_>>()
                .join("\n"),
            work(Bed::Front),
            work(Bed::Back),
        )
    }
}

fn beds() -> impl Strategy<Value = Beds> {
    use Does::{Knit, Out, Slip, Tuck};
    let row = || {
        let does = proptest::sample::select(vec![Knit, Knit, Tuck, Tuck, Slip, Out]);
        proptest::collection::vec(does, WIDTH)
    };
    (row(), row(), any::<bool>(), -3_i32..4, 1_usize..4).prop_map(|(front, back, opposite, racked, most_tucks)| {
        let mut beds = Beds { front, back, opposite, racked, most_tucks };
        if opposite {
            // Two that face each other do not both work: the back one rests then.
            for at in 0..WIDTH {
                let faces = usize::try_from(at as i32 + beds.racked).ok().and_then(|at| beds.front.get(at));
                if faces.is_some_and(|does| matches!(does, Knit | Tuck)) && beds.back[at] != Out {
                    beds.back[at] = Slip;
                }
            }
        }
        beds
    })
}

fn named(needles: &[(Bed, usize)]) -> String {
    let of = |bed: Bed| {
        let half = (WIDTH / 2) as i32;
        let needle = |at: usize| match at as i32 - half {
            left @ ..0 => Needle::new(Side::Left, left.unsigned_abs()),
            right => Needle::new(Side::Right, right.unsigned_abs() + 1),
        };
        let set: NeedleSet = needles.iter().filter(|(on, _)| *on == bed).filter_map(|(_, at)| needle(*at)).collect();
        (!set.is_empty()).then(|| format!("{bed} {set}"))
    };
    Bed::BOTH.iter().filter_map(|&bed| of(bed)).collect::<Vec<_>>().join(" and ")
}

proptest! {
    #![proptest_config(super::cases(2_000))]

    #[test]
    fn a_tuck_is_supported_by_what_lies_beside_it_in_the_yarn(beds in beds()) {
        let taking = |bed| beds.of(bed).iter().any(|does| *does != Does::Out);
        prop_assume!(taking(Bed::Front) && taking(Bed::Back));
        let text = beds.text();
        let findings = check_piece(&only_piece(&text));
        let about = |finding: &&Finding| finding.rule.name == "unsupported-tuck";
        let said = findings.iter().find(about).map(|finding| finding.what.clone());
        let alone = beds.unsupported();
        let expected = (!alone.is_empty()).then(|| named(&alone));
        prop_assert_eq!(
            said.as_ref().map(|what| what.split(" tuck").next().unwrap_or_default()),
            expected.as_deref(),
            "{}\n{:#?}", text, findings
        );
    }
}
