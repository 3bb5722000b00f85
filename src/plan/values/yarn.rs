//! Yarns as a pattern describes them.

use crate::plan::names::{Entry, Sort};
use crate::plan::program::YarnInfo;
use crate::plan::rules;
use crate::plan::say::twice;
use crate::plan::values::context::Values;
use crate::plan::values::quantity::{Measure, decimal, exact};
use crate::plan::values::value::Wanted;
use crate::source::Span;
use crate::syntax::tree::{CountSystem, Kind, Number, YarnLine};
use num_traits::{Signed, Zero};
use std::collections::HashMap;
use std::mem::{Discriminant, discriminant};

const STRANDS: Wanted = Wanted { what: "the number of strands", measures: &[Measure::Number], least: 1, most: 100 };
pub(in crate::plan) use crate::plan::limits::MOST_YARNS;

/// As the trade writes it behind the number.
const fn system_words(system: CountSystem) -> &'static str {
    match system {
        CountSystem::Metric => "Nm",
        CountSystem::Tex => "tex",
        CountSystem::Decitex => "dtex",
        CountSystem::Denier => "denier",
        CountSystem::Cotton => "Ne",
        CountSystem::Worsted => "worsted",
    }
}

impl<'a> Values<'a> {
    /// Reads all yarns, in the order of their numbers.
    pub(in crate::plan) fn read_yarns(&mut self) -> Vec<YarnInfo> {
        let names = self.names;
        if let Some(entry) = names.all(Sort::Yarn).nth(MOST_YARNS) {
            self.error(
                &rules::TOO_LARGE,
                entry.name.span,
                "there are too many yarns",
                format!("A pattern may have {MOST_YARNS}."),
                "Take out those that no `thread` line names.",
            );
        }
        names.all(Sort::Yarn).map(|entry| self.read_yarn(entry)).collect()
    }

    fn read_yarn(&mut self, entry: Entry<'a>) -> YarnInfo {
        let mut info = YarnInfo { name: entry.name.text.to_string(), ..YarnInfo::default() };
        let Some(body) = &entry.statement.body else { return info };
        let mut said: HashMap<Discriminant<YarnLine>, Span> = HashMap::new();
        for statement in &body.statements {
            let Kind::YarnLine(line) = &statement.kind else { continue };
            if let Some(first) = said.insert(discriminant(line), statement.span) {
                self.sure(twice("this line of a yarn", statement.span, first));
                continue;
            }
            match line {
                YarnLine::Count { first, second, system } => {
                    info.count = self.read_count(*first, *second, *system, statement.span);
                }
                YarnLine::Colour(text) => info.colour = Some(text.text.to_string()),
                YarnLine::Fibre(text) => info.fibre = Some(text.text.to_string()),
                YarnLine::Ball(mass) => {
                    let mass_given = self.amount(mass, "the weight of a ball", &[Measure::Mass]);
                    if mass_given.and_then(|mass| mass.exact).is_some_and(|mass| !mass.is_positive()) {
                        self.error(
                            &rules::OUT_OF_RANGE,
                            mass.span,
                            "a ball must weigh something",
                            format!("`{}` is 0 or less.", self.words(mass.span)),
                            "Write what stands on the band, for example `ball 50 g`.",
                        );
                    }
                }
                YarnLine::PlainRows(size) => info.plain_size = self.hundredths(size),
                YarnLine::Strands(strands) => {
                    self.whole(strands, &STRANDS);
                }
            }
        }
        info
    }

    fn read_count(&mut self, first: Number, second: Option<Number>, system: CountSystem, span: Span) -> Option<String> {
        let numbers: Option<Vec<_>> = [Some(first), second].into_iter().flatten().map(exact).collect();
        let Some(numbers) = numbers else {
            self.error(
                &rules::TOO_LARGE,
                span,
                "this count is too large or too fine to be worked with",
                "Numbers go up to 1000000000000 (12 zeros) and have up to 6 decimals.",
                "Check the digits.",
            );
            return None;
        };
        if numbers.iter().any(Zero::is_zero) {
            self.sure(
                rules::OUT_OF_RANGE
                    .finds(span, "the count of a yarn cannot be 0")
                    .because("The count says how finely the yarn is spun.")
                    .mend("Write what stands on the cone, for example `count 2/15 Nm`."),
            );
            return None;
        }
        let words: Vec<String> = numbers.into_iter().map(|number| decimal(number, 6)).collect();
        Some(format!("{} {}", words.join("/"), system_words(system)))
    }
}
