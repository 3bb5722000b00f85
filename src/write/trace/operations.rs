//! The operations of a piece, written while it is played: none of them is kept.

use super::did::{self, yarn_name};
use super::entry::{After, Entry, Own, Pass, Promise, Racking, Source, What};
use super::totals::{BedAtEnd, Totals, TotalsToCome};
use super::words::BedWord;
use crate::beds::{self, Bed, Both};
use crate::plan::program::{self, Piece, YarnInfo};
use crate::play::{Block, Flow, Manner, Moment, Speech, Stop, Watcher, play};
use crate::source::{Sources, Span};
use serde::ser::{SerializeSeq, Serializer};

/// The operations of a piece. They come to be when they are written.
#[derive(Debug)]
pub struct Operations<'a> {
    pub(super) piece: &'a Piece,
    pub(super) yarns: &'a [YarnInfo],
    pub(super) sources: &'a Sources,
    pub(super) totals: TotalsToCome,
}

impl serde::Serialize for Operations<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut recorder = Recorder {
            list: serializer.serialize_seq(None)?,
            failed: None,
            yarns: self.yarns,
            sources: self.sources,
            entries: 0,
            sections: Vec::new(),
            stitches: Vec::new(),
        };
        let (state, stop) = play(self.piece, Manner::EVERY, &mut recorder);
        if let Some(error) = recorder.failed {
            return Err(error);
        }
        let at_end = |bed: Bed| BedAtEnd {
            in_work: state.in_work[bed].into(),
            held: state.held[bed].into(),
            loaded: state.loops.loaded(bed).into(),
            stitches: state.loops.stitches(bed).into(),
        };
        self.totals.are(Totals {
            entries: recorder.entries,
            rows: state.row,
            whole: stop.is_none(),
            ledger: (&state.ledger).into(),
            front: at_end(Bed::Front),
            back: at_end(Bed::Back),
        });
        recorder.list.end()
    }
}

/// Where a span begins, in words.
pub(super) fn source(sources: &Sources, span: Span) -> Source<'_> {
    let position = sources.position(span);
    Source { file: sources.get(span.file).name(), line: position.line, column: position.column }
}

fn after<'a>(yarns: &'a [YarnInfo], state: &beds::State) -> After<'a> {
    After {
        row: state.row,
        counter: state.counter,
        carriage: state.carriage.into(),
        gaiting: state.gaiting.into(),
        racking: Racking::at(state.racking),
        yarn: yarn_name(yarns, state.yarn),
        stitch_size: (&state.sizes).into(),
        stitches: Both::from_fn(|bed| state.stitch_count(bed)).into(),
        ledger: (&state.ledger).into(),
    }
}

/// Writes each entry into the list as it happens.
struct Recorder<'a, L: SerializeSeq> {
    list: L,
    failed: Option<L::Error>,
    yarns: &'a [YarnInfo],
    sources: &'a Sources,
    entries: u64,
    sections: Vec<String>,
    /// For each open repeat the stitch it works, if it works one.
    stitches: Vec<Option<String>>,
}

impl<L: SerializeSeq> Recorder<'_, L> {
    fn write(
        &mut self,
        what: What<'_>,
        not_done: Option<String>,
        span: Option<Span>,
        pass: Option<(u64, u64)>,
        state: &beds::State,
    ) {
        if self.failed.is_some() {
            return;
        }
        self.entries += 1;
        let entry = Entry {
            number: self.entries,
            what,
            not_done,
            source: span.map(|span| source(self.sources, span)),
            sections: &self.sections,
            stitch: self.stitches.iter().rev().find_map(Option::as_deref),
            pass: pass.filter(|(_, of)| *of > 1).map(|(number, of)| Pass { number, of }),
            after: after(self.yarns, state),
        };
        self.failed = self.list.serialize_element(&entry).err();
    }
}

impl<L: SerializeSeq> Watcher for Recorder<'_, L> {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let (what, not_done) = did::what(moment, self.yarns);
        self.write(what, not_done, Some(moment.span), moment.pass, moment.state);
        if self.failed.is_some() { Flow::Break(Stop::Enough) } else { Flow::Continue(()) }
    }

    fn said(&mut self, speech: &Speech, state: &beds::State) {
        let what = match speech {
            Speech::Words(word, text) => What::Say { what: word.word(), text },
            Speech::Remind { every, text } => What::Own(Own::Remind { every_rows: *every, text }),
            Speech::Rounded(rounding) => What::Own(Own::Rounding {
                wish: &rounding.wish,
                exact: &rounding.exact,
                rows: rounding.rows,
                difference: &rounding.difference,
            }),
        };
        self.write(what, None, None, None, state);
    }

    fn promised(&mut self, promise: &program::Promise, span: Span, state: &beds::State, pass: Option<(u64, u64)>) {
        let promise = match *promise {
            program::Promise::Stitches { count, front, back } => {
                let named = [(front, BedWord::Front), (back, BedWord::Back)];
                let beds = named.into_iter().filter(|(named, _)| *named).map(|(_, bed)| bed).collect();
                Promise::Stitches { beds, count }
            }
            program::Promise::Carriage(side) => Promise::Carriage { at: side.into() },
            program::Promise::Counter(shows) => Promise::Counter { shows },
            program::Promise::Gaiting(gaiting) => Promise::Gaiting { is: gaiting.into() },
            program::Promise::Racking(place) => Promise::Racking { at: Racking::at(place) },
            program::Promise::Tube(open) => Promise::Tube { open_at: open.map(Into::into) },
        };
        self.write(What::Own(Own::Expect { promise }), None, Some(span), pass, state);
    }

    fn begins(&mut self, block: &Block<'_>, _: &beds::State) {
        match block {
            Block::Section(title) => self.sections.push((*title).to_owned()),
            Block::Repeat(repeat, _) => {
                self.stitches.push(repeat.stitch.as_ref().map(|stitch| stitch.name.clone()));
            }
            Block::Allow(..) => {}
        }
    }

    fn ends(&mut self, block: &Block<'_>, _: &beds::State) {
        match block {
            Block::Section(_) => {
                self.sections.pop();
            }
            Block::Repeat(..) => {
                self.stitches.pop();
            }
            Block::Allow(..) => {}
        }
    }
}
