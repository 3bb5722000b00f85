//! Stitch definitions: their parameters, their steps for the values they are given, and whether they keep their word.

use crate::beds::{Bed, Machine, Pick};
use crate::plan::limits::{MOST_DEPTH, MOST_PARAMETERS};
use crate::plan::lower::draft::{Draft, Instance};
use crate::plan::lower::lowering::Lowering;
use crate::plan::lower::occupancy::{Occupancy, Presence};
use crate::plan::names::{Entry, Sort, reserved};
use crate::plan::program::StitchUse;
use crate::plan::rules;
use crate::plan::say::{clipped, listed, nearest};
use crate::plan::values::machine::stand_in;
use crate::plan::values::quantity::{Amount, Measure};
use crate::plan::values::value::Value;
use crate::syntax::tree::{Argument, BedWord, Kind, Name, Parameter, ParameterKind};
use num_traits::Zero;
use std::sync::Arc;

/// What a parameter must be given; none for a selection.
const fn measure(kind: ParameterKind) -> Option<Measure> {
    Some(match kind {
        ParameterKind::Number => Measure::Number,
        ParameterKind::Rows => Measure::Rows,
        ParameterKind::Stitches => Measure::Stitches,
        ParameterKind::Needles => Measure::Needles,
        ParameterKind::Length => Measure::Length,
        ParameterKind::Selection => return None,
    })
}

fn kind_words(kind: ParameterKind) -> &'static str {
    measure(kind).map_or("a selection of needles", Measure::words)
}

const fn beds(word: BedWord) -> (bool, bool) {
    (!matches!(word, BedWord::Back), !matches!(word, BedWord::Front))
}

impl<'a> Lowering<'a> {
    /// Looks at each definition on its own, so that a mistake in one that is never worked is found too. A parameter
    /// stands for a value of its kind that is not known.
    pub(super) fn check_definitions(&mut self, machines: &[Arc<Machine>]) {
        let machine = match machines {
            [only] => Arc::clone(only),
            _ => Arc::new(stand_in()),
        };
        self.values.machine = Some(machine);
        let names = self.values.names;
        for entry in names.all(Sort::Stitch) {
            let Kind::Stitch { parameters, .. } = &entry.statement.kind else { continue };
            if let Some(parameter) = parameters.get(MOST_PARAMETERS) {
                self.values.error(
                    &rules::TOO_LARGE,
                    parameter.name.span,
                    "the stitch asks for too many things",
                    format!("It may ask for {MOST_PARAMETERS}, and it asks for {}.", parameters.len()),
                    "Make several stitches of it.",
                );
                continue;
            }
            self.check_parameters(parameters);
            let unknown = |parameter: &Parameter| match measure(parameter.kind) {
                Some(measure) => Value::Amount(Amount::unknown(measure)),
                None => Value::Selection(Pick::InWork, false),
            };
            self.instance(entry, parameters.iter().map(unknown).collect(), entry.name);
        }
        self.values.machine = None;
    }

    fn check_parameters(&mut self, parameters: &'a [Parameter]) {
        for parameter in parameters {
            if let Some(finding) = reserved(&parameter.name) {
                self.values.sure(finding);
            }
            if let Some(first) = self.values.names.given_before(&parameter.name) {
                self.values.sure(
                    rules::DUPLICATE_NAME
                        .finds(parameter.name.span, format!("`{}` is asked for twice", parameter.name.text))
                        .also(first.declared, "here it is the first time")
                        .mend("Give one of the two another name."),
                );
            }
        }
    }

    /// The values of the parameters, in their order; none when some are wrong.
    pub(super) fn arguments(
        &mut self,
        entry: Entry<'a>,
        arguments: &'a [Argument],
        at: &'a Name,
    ) -> Option<Vec<Value>> {
        let Kind::Stitch { name, parameters, .. } = &entry.statement.kind else { return None };
        let mut good = parameters.len() <= MOST_PARAMETERS;
        let resolved = self.values.names.resolved;
        let mut given: std::collections::HashMap<usize, (&'a Argument, Option<Value>)> =
            std::collections::HashMap::new();
        for argument in arguments {
            let value = self.values.value(&argument.value);
            good &= value.is_some();
            let text: &str = &argument.name.text;
            let Some(asked) = resolved.meant(&argument.name) else {
                good = false;
                let known: Vec<&str> = parameters.iter().map(|parameter| parameter.name.text.as_ref()).collect();
                let mend = match nearest(text, &known) {
                    Some(near) => format!("Perhaps `{near}` is meant."),
                    None if known.is_empty() => format!("Take the brackets out: `work {}`.", name.text),
                    None => format!("It asks for {}.", listed(&known)),
                };
                self.values.report(
                    rules::WRONG_DETAILS
                        .finds(argument.name.span, format!("`{}` does not ask for `{}`", name.text, clipped(text)))
                        .also(name.span, "it is defined here")
                        .mend(mend),
                );
                continue;
            };
            if let Some((first, _)) = given.get(&asked) {
                good = false;
                self.values.sure(crate::plan::say::twice(&format!("`{text}`"), argument.name.span, first.name.span));
            } else {
                given.insert(asked, (argument, value));
            }
        }
        let mut values = Vec::new();
        for parameter in parameters {
            match resolved.meant(&parameter.name).and_then(|asked| given.remove(&asked)) {
                Some((argument, Some(value))) => match self.fitting(parameter, argument, value) {
                    Some(value) => values.push(value),
                    None => good = false,
                },
                Some((_, None)) => {}
                None => {
                    good = false;
                    self.values.report(
                        rules::WRONG_DETAILS
                            .finds(at.span, format!("`{}` is not told its `{}`", name.text, parameter.name.text))
                            .also(parameter.name.span, "it is asked for here")
                            .because(format!("The definition needs {} for it.", kind_words(parameter.kind)))
                            .mend(format!(
                                "Write it in brackets behind the name: `work {} ({} {})`.",
                                name.text,
                                parameter.name.text,
                                example(parameter.kind)
                            )),
                    );
                }
            }
        }
        good.then_some(values)
    }

    /// A value for a parameter, if it is of its kind. A plain 0 is none of anything.
    fn fitting(&mut self, parameter: &Parameter, argument: &Argument, value: Value) -> Option<Value> {
        match (&value, measure(parameter.kind)) {
            (Value::Selection(..), None) => return Some(value),
            (Value::Amount(amount), Some(measure)) => {
                let nothing = amount.measure == Measure::Number && amount.exact.is_some_and(|exact| exact.is_zero());
                if amount.measure == measure || nothing {
                    return Some(Value::Amount(Amount { measure, ..*amount }));
                }
            }
            _ => {}
        }
        self.values.report(
            rules::WRONG_DETAILS
                .finds(argument.value.span, format!("`{}` cannot be {}", parameter.name.text, value.words()))
                .also(parameter.name.span, "it is asked for here")
                .because(format!("The definition wants {} for it.", kind_words(parameter.kind)))
                .mend(format!("Write, for example, `{} {}`.", parameter.name.text, example(parameter.kind))),
        );
        None
    }

    /// A definition with its values, worked out once for each machine and set of values. `at` is the name where it is
    /// worked. None when it works itself or is nested too deep.
    pub(super) fn instance(&mut self, entry: Entry<'a>, values: Vec<Value>, at: &'a Name) -> Option<Arc<Instance>> {
        let Kind::Stitch { name, parameters, from, to } = &entry.statement.kind else { return None };
        if let Some(first) = self.calling.iter().position(|caller| caller.text == name.text) {
            let chain: Vec<String> =
                self.calling.iter().skip(first).map(|caller| format!("`{}`", caller.text)).collect();
            self.values.sure(
                rules::ENDLESS_DEFINITION.finds(at.span, format!("`{}` works itself and would never end", name.text))
                    .also(name.span, "it is defined here")
                    .because(format!("The way round is {}, then `{}` again.", chain.join(", then "), name.text))
                    .mend("Take this `work` out of the definition, and use `repeat` or `work NAME N times` for what comes again."),
            );
            return None;
        }
        let machine = self.values.machine.as_ref().map(|machine| machine.name.clone()).unwrap_or_default();
        let key = format!("{machine}\u{0}{}\u{0}{values:?}", name.text);
        if let Some(instance) = self.instances.get(&key) {
            return Some(Arc::clone(instance));
        }
        let body = entry.statement.body.as_ref()?;
        if self.values.depth >= MOST_DEPTH {
            self.values.too_deep(at.span);
            return None;
        }
        let guessing = std::mem::replace(&mut self.values.report.guessing, values.iter().any(Value::is_unknown));
        let resolved = self.values.names.resolved;
        let locals = parameters.iter().zip(values);
        let locals = locals.filter_map(|(parameter, value)| Some((resolved.meant(&parameter.name)?, value))).collect();
        let locals = std::mem::replace(&mut self.values.locals, locals);
        self.calling.push(name);
        let (begin, end) = (beds(*from), beds(*to));
        let mut draft = Draft { beds: Some(Occupancy::exactly(begin.0, begin.1)), ..Draft::default() };
        self.block(&mut draft, body);
        if let Some(beds) = draft.beds {
            self.keeps_its_word(name, *to, beds);
        }
        self.calling.pop();
        self.values.locals = locals;
        self.values.report.guessing = guessing;
        let used = StitchUse { name: name.text.to_string(), defined: entry.statement.span, from: begin, to: end };
        let instance = Arc::new(Instance {
            steps: draft.steps.into(),
            rows: draft.rows,
            gap: draft.gap,
            height: draft.height,
            used,
        });
        self.instances.insert(key, Arc::clone(&instance));
        Some(instance)
    }

    fn keeps_its_word(&mut self, name: &Name, to: BedWord, beds: Occupancy) {
        let says = self::beds(to);
        for (bed, says) in [(Bed::Front, says.0), (Bed::Back, says.1)] {
            let broken = match beds.0[bed] {
                Presence::Yes if !says => "still has stitches",
                Presence::No if says => "has no stitches any more",
                _ => continue,
            };
            let words = |there: Presence| match there {
                Presence::No => "none",
                Presence::Maybe => "perhaps some",
                Presence::Yes => "some",
            };
            let ends = match (beds.0.front, beds.0.back) {
                (Presence::Yes, Presence::No) => "to front",
                (Presence::No, Presence::Yes) => "to back",
                (Presence::No, Presence::No) => "",
                _ => "to both",
            };
            let mend = if ends.is_empty() {
                "Leave stitches on a bed, or write these lines in the piece and not in a definition.".to_owned()
            } else {
                format!("Write `{ends}` in its first line if that is meant, or transfer the stitches at its end.")
            };
            self.values.error(
                &rules::WRONG_BED,
                name.span,
                format!("at the end of `{}` the {bed} bed {broken}", name.text),
                format!(
                    "Its first line says that it ends on {}. It ends with {} on the front bed and {} on the back bed.",
                    match to {
                        BedWord::Front => "the front bed",
                        BedWord::Back => "the back bed",
                        BedWord::Both => "both beds",
                    },
                    words(beds.0.front),
                    words(beds.0.back)
                ),
                mend,
            );
            return;
        }
    }
}

const fn example(kind: ParameterKind) -> &'static str {
    match kind {
        ParameterKind::Number => "4",
        ParameterKind::Rows => "6 rows",
        ParameterKind::Stitches => "3 stitches",
        ParameterKind::Needles => "5 needles",
        ParameterKind::Length => "10 cm",
        ParameterKind::Selection => "L10-R10",
    }
}
