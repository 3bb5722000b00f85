//! The operation trace: everything that is done, one operation a line, as JSON for programs.
//!
//! Repeats are played out. Nothing but the operation at hand is kept in memory, however many rows there are.

mod did;
pub mod entry;
pub mod form;
mod lines;
mod operations;
pub mod parts;
pub mod totals;
pub mod words;

use crate::beds::Machine;
use crate::plan::program::{Piece, Program, Step, StepId, StepKind, Steps, YarnInfo, name_of};
use crate::source::Sources;
use crate::words::total;
use form::{Trace, TracedMachine, TracedPiece, TracedSize, TracedWay, TracedYarn};
use operations::{Operations, source};
use serde::Serialize as _;
use std::collections::HashMap;
use std::io::{self, Write};
use totals::TotalsToCome;
use words::HalfStepWord;

/// Writes the trace of some programs, one for each size: of the pieces with that title, or of all pieces where none
/// is given. The spans of the programs must be of `sources`. Writing is in small steps: `out` should be buffered.
///
/// # Errors
/// What `out` gives; the play ends there.
pub fn write(mut out: impl Write, programs: &[&Program], sources: &Sources, piece: Option<&str>) -> io::Result<()> {
    let trace = Trace {
        trace: Trace::VERSION,
        pattern: programs.first().and_then(|program| program.title.as_deref()),
        sizes: programs.iter().map(|program| size(program, sources, piece)).collect(),
    };
    trace.serialize(&mut serde_json::Serializer::with_formatter(&mut out, lines::Lines::default()))?;
    out.write_all(b"\n")
}

/// How many operations [`write()`] would write: of the pieces with that title, or of all where none is given. Nothing is
/// played for it; a number past what can be counted is the greatest one that can.
#[must_use]
pub fn length(programs: &[&Program], piece: Option<&str>) -> u64 {
    let of_program = |program: &&Program| {
        let mut known = HashMap::new();
        let pieces = program.pieces.iter().filter(|known| piece.is_none_or(|title| known.title == title));
        pieces.map(|piece| operations_of(&piece.steps, &mut known)).fold(0, u64::saturating_add)
    };
    programs.iter().map(of_program).fold(0, u64::saturating_add)
}

/// What is to be said before a trace is written that takes long and much room, as a sentence; none for others.
#[must_use]
pub fn warning(programs: &[&Program], piece: Option<&str>) -> Option<String> {
    /// Operations that take a second or two, and some hundred megabytes.
    const MANY: u64 = 200_000;
    let length = length(programs, piece);
    (length > MANY).then(|| {
        format!(
            "this trace has {} lines, one for each operation, and takes long and much room. Ctrl-C ends it; --size and \
             --piece choose a part of the pattern.",
            total(length)
        )
    })
}

/// A list that several places share is counted once, so that the cost is that of the text.
fn operations_of(steps: &Steps, known: &mut HashMap<StepId, u64>) -> u64 {
    let Some(name) = name_of(steps) else { return 0 };
    if let Some(&count) = known.get(&name) {
        return count;
    }
    let count = |step: &Step| match &step.kind {
        StepKind::Do(_) => 1,
        StepKind::Repeat(repeat) => operations_of(&repeat.steps, known).saturating_mul(repeat.times),
        StepKind::Section(_, steps) | StepKind::Allow { steps, .. } => operations_of(steps, known),
        _ => 0,
    };
    let count = steps.iter().map(count).fold(0, u64::saturating_add);
    known.insert(name, count);
    count
}

/// The JSON Schema of a trace (draft 2020-12), made from the types that are written; what programs are given of it is
/// `grammar/trace.schema.json`.
#[cfg(test)]
pub(crate) fn schema() -> serde_json::Value {
    let settings = schemars::generate::SchemaSettings::draft2020_12().for_serialize();
    settings.into_generator().into_root_schema_for::<Trace<'static>>().to_value()
}

fn size<'a>(program: &'a Program, sources: &'a Sources, piece: Option<&str>) -> TracedSize<'a> {
    let is_asked_for = |known: &&Piece| piece.is_none_or(|title| known.title == title);
    TracedSize {
        size: program.size.as_deref(),
        yarns: program.yarns.iter().map(yarn).collect(),
        pieces: program
            .pieces
            .iter()
            .filter(is_asked_for)
            .map(|piece| {
                let totals = TotalsToCome::default();
                TracedPiece {
                    piece: &piece.title,
                    make: piece.make,
                    source: source(sources, piece.span),
                    machine: machine(&piece.machine),
                    operations: Operations { piece, yarns: &program.yarns, sources, totals: totals.clone() },
                    totals,
                }
            })
            .collect(),
    }
}

fn yarn(yarn: &YarnInfo) -> TracedYarn<'_> {
    TracedYarn {
        name: &yarn.name,
        count: yarn.count.as_deref(),
        colour: yarn.colour.as_deref(),
        fibre: yarn.fibre.as_deref(),
    }
}

fn machine(machine: &Machine) -> TracedMachine<'_> {
    TracedMachine {
        name: &machine.name,
        needles_each_side: machine.each_side,
        // Thousandths of a millimetre; no machine's pitch comes near the end of what `f64` holds exactly.
        pitch_mm: machine.pitch.map(|pitch| pitch as f64 / 1000.0),
        racking_bed: machine.racking_bed.into(),
        racking_left: machine.racking_left,
        racking_right: machine.racking_right,
        half_step_with: if machine.half_step_by_handle { HalfStepWord::RackingHandle } else { HalfStepWord::Lever },
        half_step_to: machine.half_step_to.into(),
        transfer_carriage: machine
            .transfer_carriage
            .iter()
            .map(|way| TracedWay { to: way.to.into(), from: way.from.map(Into::into) })
            .collect(),
        transfer_carriage_takes: machine.transfer_takes.iter().copied().map(Into::into).collect(),
        transfer_place: machine.transfer_place.as_deref(),
        emptied_needles_stay_in_work: machine.emptied_stay.value,
    }
}
