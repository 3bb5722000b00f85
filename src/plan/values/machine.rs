//! Machine profiles.

use crate::beds::{Bed, Both, FloatLimit, Limit, Machine, StitchSize, Takes, TransferWay};
use crate::plan::names::Entry;
use crate::plan::rules;
use crate::plan::say::{clipped, twice};
use crate::plan::values::context::Values;
use crate::plan::values::quantity::{Exact, Measure, printed};
use crate::plan::values::sides::{beds, side, single};
use crate::plan::values::value::Wanted;
use crate::source::Span;
use crate::syntax::tree::{BedWord, CarriageWay, Expression, Kind, MachineLine, Taking};
use num_traits::ToPrimitive;
use std::collections::HashMap;
use std::mem::{Discriminant, discriminant};

const fn plain(what: &'static str, least: u64, most: u64) -> Wanted {
    Wanted { what, measures: &[Measure::Number], least, most }
}
const EACH_SIDE: Wanted = Wanted {
    what: "the number of needles each side",
    measures: &[Measure::Number, Measure::Needles],
    least: 1,
    most: 128,
};
// Hand machines rack a dozen steps or so; anything far beyond is a slip of the pen (common practice, no source).
const RACKING: Wanted = plain("the number of racking steps", 0, 64);
const TUCKS: Wanted = plain("the number of tucks", 1, 64);
const SLACK: Wanted = plain("the racking that a loop can follow", 0, 64);
const STEP: Wanted = plain("the racking between two rows", 1, 64);
// The beds tell the ages of loops apart up to 32 rows.
const WAIT: Wanted =
    Wanted { what: "the longest wait", measures: &[Measure::Number, Measure::Rows], least: 1, most: 30 };
const CROSS: Wanted =
    Wanted { what: "the widest cross", measures: &[Measure::Number, Measure::Stitches], least: 1, most: 64 };

impl<'a> Values<'a> {
    /// Reads a profile; lines that cannot be read leave our default. Findings: `missing-line`, `said-twice`,
    /// `out-of-range` and those of expressions.
    pub(in crate::plan) fn read_machine(&mut self, entry: Entry<'a>) -> Machine {
        let mut machine = Machine::new(entry.name.text.as_ref(), stand_in().each_side);
        let Some(body) = &entry.statement.body else { return machine };
        let mut said: HashMap<Discriminant<MachineLine>, Span> = HashMap::new();
        let mut broken = false;
        for statement in &body.statements {
            let Kind::MachineLine(line) = &statement.kind else {
                broken |= statement.kind == Kind::Broken;
                continue;
            };
            if let Some(&first) = said.get(&discriminant(line)) {
                self.sure(twice("this line of a machine", statement.span, first));
                continue;
            }
            said.insert(discriminant(line), statement.span);
            self.machine_line(&mut machine, line, statement.span);
        }
        // What takes stitches is there: the line that says what it takes need not stand beside one that says no more.
        if machine.transfer_carriage.is_empty() && !machine.transfer_takes.is_empty() {
            machine.transfer_carriage = both_ways();
        }
        let has_needles = body
            .statements
            .iter()
            .any(|statement| matches!(&statement.kind, Kind::MachineLine(MachineLine::Needles(_))));
        if !has_needles && !broken {
            self.sure(
                rules::MISSING_LINE.finds(entry.statement.span,
                    format!("the machine `{}` does not say how many needles it has", clipped(&entry.name.text)),
                )
                .because("Whether a piece fits the bed depends on it.")
                .mend("Count the needles of one bed from the centre to one side and write, for example, `needles 96 each side`."),
            );
        }
        machine
    }

    fn machine_line(&mut self, machine: &mut Machine, line: &'a MachineLine, span: Span) {
        match line {
            MachineLine::Needles(count) => {
                if let Some(count) = self.small(count, &EACH_SIDE) {
                    machine.each_side = count;
                }
            }
            MachineLine::Pitch(length) => {
                let least = 1_000;
                let most = 20_000;
                machine.pitch = self.micrometres(length, "the pitch", least, most);
            }
            MachineLine::Racking { bed, left, right } => {
                match single(*bed) {
                    Some(bed) => machine.racking_bed = bed,
                    None => self.error(
                        &rules::ONE_BED,
                        span,
                        "racking moves one of the beds",
                        "Only one bed of a machine slides; the other one stays where it is.",
                        "Write `front bed` or `back bed`, as the machine's manual says.",
                    ),
                }
                let (left, right) = (self.small(left, &RACKING), self.small(right, &RACKING));
                machine.racking_left = left.unwrap_or(machine.racking_left);
                machine.racking_right = right.unwrap_or(machine.racking_right);
            }
            MachineLine::HalfStep(by_handle) => machine.half_step_by_handle = *by_handle,
            MachineLine::HalfStepWay(to) => machine.half_step_to = side(*to),
            MachineLine::Selectors(beds) => machine.selectors = which(*beds),
            MachineLine::Hold(beds) => machine.hold = which(*beds),
            MachineLine::TransferCarriage(ways) => machine.transfer_carriage = self.ways(ways, span),
            MachineLine::TransferTakes(takes) => machine.transfer_takes = self.takes(takes, span),
            MachineLine::TransferPlace(place) => machine.transfer_place = Some(place.text.to_string()),
            MachineLine::MostTucks(count) => {
                machine.most_tucks = self.small(count, &TUCKS).map_or(machine.most_tucks, Limit::given);
            }
            MachineLine::MostAdjacentTucks(count) => {
                machine.most_adjacent_tucks =
                    self.small(count, &TUCKS).map_or(machine.most_adjacent_tucks, Limit::given);
            }
            MachineLine::LongestFloat(limit) => self.longest_float(machine, limit),
            MachineLine::RackingSlack(steps) => {
                machine.racking_slack = self.small(steps, &SLACK).map_or(machine.racking_slack, Limit::given);
            }
            MachineLine::RackingStep(steps) => {
                machine.racking_step = self.small(steps, &STEP).map_or(machine.racking_step, Limit::given);
            }
            MachineLine::LongestWait(rows) => {
                machine.longest_wait = self.small(rows, &WAIT).map_or(machine.longest_wait, Limit::given);
            }
            MachineLine::WidestCross(stitches) => {
                machine.widest_cross = self.small(stitches, &CROSS).map_or(machine.widest_cross, Limit::given);
            }
            MachineLine::StitchSizes(least, most) => {
                let example = "Write the smallest and the largest mark, for example `stitch sizes 0 to 10`.";
                if let Some(sizes) = self.sizes_from_to((least, most), span, example) {
                    machine.stitch_sizes = Limit::given(sizes);
                }
            }
            MachineLine::TransferSizes(least, most) => {
                let example = "Write the smallest and the largest size, for example `transfer at size 6 to 9`.";
                machine.transfer_sizes = self.sizes_from_to((least, most), span, example);
            }
            MachineLine::EmptiedStay(stay) => machine.emptied_stay = Limit::given(*stay),
        }
    }

    fn sizes_from_to(
        &mut self,
        (least, most): (&'a Expression, &'a Expression),
        span: Span,
        example: &str,
    ) -> Option<(StitchSize, StitchSize)> {
        let (least, most) = (self.hundredths(least)?, self.hundredths(most)?);
        if least < most {
            return Some((least, most));
        }
        self.error(
            &rules::OUT_OF_RANGE,
            span,
            "the stitch sizes are the wrong way round",
            "The smaller size stands first.",
            example,
        );
        None
    }

    fn longest_float(&mut self, machine: &mut Machine, limit: &'a Expression) {
        let Some(amount) = self.amount(limit, "the longest float", &[Measure::Length, Measure::Needles]) else {
            return;
        };
        let found = if amount.measure == Measure::Length {
            self.micrometres(limit, "the longest float", 1_000, 1_000_000).map(FloatLimit::Micrometres)
        } else {
            let wanted = Wanted { what: "the longest float", measures: &[Measure::Needles], least: 0, most: 256 };
            self.small(limit, &wanted).map(FloatLimit::Needles)
        };
        machine.longest_float = found.map_or(machine.longest_float, Limit::given);
    }

    fn small(&mut self, expression: &'a Expression, wanted: &Wanted) -> Option<u32> {
        self.whole(expression, wanted).and_then(|count| u32::try_from(count).ok())
    }

    /// A length within limits, in whole micrometres.
    fn micrometres(&mut self, expression: &'a Expression, what: &str, least: i128, most: i128) -> Option<i64> {
        let amount = self.amount(expression, what, &[Measure::Length])?;
        let exact = amount.exact?;
        if exact < Exact::from(least) || exact > Exact::from(most) {
            self.error(
                &rules::OUT_OF_RANGE,
                expression.span,
                format!("{what} cannot be {}", printed(&amount)),
                format!(
                    "Values from {} mm to {} mm are taken; others are mostly a slip of the pen.",
                    least / 1_000,
                    most / 1_000
                ),
                "Measure it on the machine and check the unit.",
            );
            return None;
        }
        exact.round().to_integer().to_i64()
    }

    fn takes(&mut self, takes: &[Taking], span: Span) -> Vec<Takes> {
        let mut found = Vec::new();
        for taking in takes {
            let taking = match taking {
                Taking::EveryStitch => Takes::EveryStitch,
                Taking::EverySecond => Takes::EverySecond,
                Taking::LoneStitches => Takes::LoneStitches,
                Taking::PickedNeedles => Takes::PickedNeedles,
            };
            if found.contains(&taking) {
                self.error(
                    &rules::SAID_TWICE,
                    span,
                    "one thing that the transfer carriage takes is given twice",
                    "Each needs saying once.",
                    "Take one of the two out.",
                );
            } else {
                found.push(taking);
            }
        }
        found
    }

    fn ways(&mut self, ways: &[CarriageWay], span: Span) -> Vec<TransferWay> {
        if ways.is_empty() {
            return both_ways();
        }
        let mut found: Vec<TransferWay> = Vec::new();
        for way in ways {
            let from = way.from.map(side);
            for to in beds(way.to) {
                let way = TransferWay { to, from };
                if found.contains(&way) {
                    self.error(
                        &rules::SAID_TWICE,
                        span,
                        format!("one way of the transfer carriage is given twice, to the {to} bed"),
                        "Each way needs saying once.",
                        "Take one of the two out.",
                    );
                } else {
                    found.push(way);
                }
            }
        }
        found
    }
}

fn both_ways() -> Vec<TransferWay> {
    Bed::BOTH.into_iter().map(|to| TransferWay { to, from: None }).collect()
}

fn which(named: Option<BedWord>) -> Both<bool> {
    Both::from_fn(|bed| named.is_some_and(|named| beds(named).any(|one| one == bed)))
}

/// A machine that stands in where the pattern has none that can be read, so that the rest is still checked: as wide
/// as any.
pub(in crate::plan) fn stand_in() -> Machine {
    Machine::new("", 128)
}
