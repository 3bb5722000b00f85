//! Both beds drawn in text: the one picture that findings, the state at a row and the sheet show.
//!
//! A column is half a needle pitch, so that each needle is drawn where it stands. How wide a picture is and where its
//! key stands is for those who show it; what a mark means is the same everywhere.

use crate::beds::{Bed, Machine, Needle, NeedleSet, State};
use crate::words;

/// The machine seen from above: which bed is the front one, and how needles are counted.
pub(crate) const MACHINE: [&str; 5] = [
    "back bed    L4 L3 L2 L1 | R1 R2 R3 R4",
    "            =========================   the fabric hangs down here",
    "front bed   L4 L3 L2 L1 | R1 R2 R3 R4   the one nearer to you",
    "",
    "                 you sit here",
];

/// Each mark and what it says.
const MARKS: [(&str, &str); 6] = [
    ("|", "| in work and empty"),
    (".", ". out of work"),
    ("h", "h held"),
    ("o", "o a loop that is no stitch yet"),
    ("123456789", "a digit counts the loops on a needle"),
    ("*", "* ten loops or more"),
];

/// What the marks in these lines say; those that do not occur are not explained.
pub(crate) fn key<'l>(lines: impl IntoIterator<Item = &'l str>) -> String {
    let seen: String = lines.into_iter().collect();
    let explained = MARKS.iter().filter(|(marks, _)| seen.contains(|mark| marks.contains(mark)));
    explained.map(|(_, words)| *words).collect::<Vec<_>>().join(", ")
}

/// What a mark says of its needles, behind their names.
fn carries(mark: char) -> String {
    match mark {
        '|' => "in work and empty".to_owned(),
        '.' => "out of work".to_owned(),
        'h' => "held".to_owned(),
        'o' => "with a loop that is no stitch yet".to_owned(),
        '1' => "with 1 loop".to_owned(),
        '*' => "with ten loops or more".to_owned(),
        count => format!("with {count} loops"),
    }
}

/// The beds as they stand.
#[derive(Clone, Copy)]
pub(crate) struct Drawing<'s> {
    pub(crate) machine: &'s Machine,
    pub(crate) state: &'s State,
}

impl Drawing<'_> {
    /// The needles of a bed that are in use: in work, held, or with a loop.
    pub(crate) fn used(&self, bed: Bed) -> NeedleSet {
        self.state.in_work[bed] | self.state.held[bed] | self.state.loops.loaded(bed)
    }

    /// The first and the last place, in half pitches, of such needles of both beds; none where there is no such needle.
    pub(crate) fn extent(&self, of: impl Fn(Bed) -> NeedleSet) -> Option<(i32, i32)> {
        let place = |bed: Bed, needle: Needle| self.state.half_pitches(self.machine, bed, needle);
        let ends = |bed: Bed| Some((place(bed, of(bed).first()?), place(bed, of(bed).last()?)));
        let each = Bed::BOTH.into_iter().filter_map(ends);
        each.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1)))
    }

    /// The marks of a bed from one place to another, in half pitches, one for each column.
    pub(crate) fn marks(&self, bed: Bed, from: i32, to: i32) -> String {
        (from..=to).map(|place| self.needle_at(bed, place).map_or(' ', |needle| self.mark(bed, needle))).collect()
    }

    fn needle_at(&self, bed: Bed, place: i32) -> Option<Needle> {
        self.state.standing().needle_at(self.machine, bed, place)
    }

    fn mark(&self, bed: Bed, needle: Needle) -> char {
        let state = self.state;
        let loops = if state.loops.loaded(bed).contains(needle) { state.loops.stack(bed, needle).len() } else { 0 };
        match loops {
            _ if state.held[bed].contains(needle) => 'h',
            0 if state.in_work[bed].contains(needle) => '|',
            0 => '.',
            _ if !state.loops.stitches(bed).contains(needle) => 'o',
            1..=9 => char::from(b'0' + loops as u8),
            _ => '*',
        }
    }

    /// The same in words, the needles that are marked alike together: `L7 to L1 with 1 loop, R1 and R2 out of work`.
    pub(crate) fn words(&self, bed: Bed, from: i32, to: i32) -> String {
        let mut alike: Vec<(char, NeedleSet)> = Vec::new();
        for needle in (from..=to).filter_map(|place| self.needle_at(bed, place)) {
            let mark = self.mark(bed, needle);
            match alike.iter_mut().find(|(known, _)| *known == mark) {
                Some((_, needles)) => needles.insert(needle),
                None => alike.push((mark, [needle].into_iter().collect())),
            }
        }
        let said =
            |(mark, needles): &(char, NeedleSet)| format!("{} {}", words::spans::spoken(needles), carries(*mark));
        alike.iter().map(said).collect::<Vec<_>>().join(", ")
    }

    /// The names of the needles at the ends of what is in use, on both sides of the centre, and every tenth, each
    /// beginning over its own needle; one that has no room is left out.
    pub(crate) fn names(&self, bed: Bed, from: i32, to: i32) -> String {
        let width = usize::try_from(to - from + 1).unwrap_or(0);
        let mut line: Vec<char> = vec![' '; width];
        let used = self.used(bed);
        let named = |needle: Needle| {
            let (_, number) = needle.counted();
            let edge = Some(needle) == used.first() || Some(needle) == used.last();
            if edge { Some(2) } else { (number == 1 || number.is_multiple_of(10)).then_some(1) }
        };
        for rank in [2, 1] {
            for place in from..=to {
                let Some(needle) = self.needle_at(bed, place).filter(|needle| named(*needle) == Some(rank)) else {
                    continue;
                };
                let label = needle.to_string();
                let start = usize::try_from(place - from).unwrap_or(0);
                let end = start + label.len();
                // A blank must stay on each side of a label.
                let room = start.saturating_sub(1)..(end + 1).min(width);
                if end <= width && line[room].iter().all(|letter| *letter == ' ') {
                    for (letter, drawn) in line[start..end].iter_mut().zip(label.chars()) {
                        *letter = drawn;
                    }
                }
            }
        }
        line.into_iter().collect()
    }

    /// A strip of both beds, the back bed above the front bed, with the names of the needles over and under them: the
    /// name of the bed, empty for a line of names, and what is drawn.
    pub(crate) fn strip(&self, from: i32, to: i32) -> [(&'static str, String); 4] {
        [
            ("", self.names(Bed::Back, from, to)),
            ("back", self.marks(Bed::Back, from, to)),
            ("front", self.marks(Bed::Front, from, to)),
            ("", self.names(Bed::Front, from, to)),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::{Drawing, key};
    use crate::beds::{
        Action, Bed, BedWork, Both, Machine, Needle, NeedleSet, Operation, Pick, Row, State, Targets, Work,
    };

    fn row(action: Action, new_loops: bool) -> Operation {
        let work = Both { front: BedWork::whole(action), back: BedWork::whole(Action::Slip) };
        Operation::Row(Row { work: Work::Same(work), sizes: Both::same(None), toward: None, new_loops })
    }

    /// The front bed after the operations, from the first needle to the last, without the gaps; and its key.
    fn drawn(machine: &Machine, state: &State) -> (String, String) {
        let drawing = Drawing { machine, state };
        let (from, to) = drawing.extent(|_| machine.bed()).expect("the machine has needles");
        let marks = drawing.marks(Bed::Front, from, to);
        (marks.replace(' ', ""), key([marks.as_str()]))
    }

    #[test]
    fn each_mark_is_drawn_and_explained_where_it_occurs() {
        let machine = Machine::new("small", 3);
        let mut state = State::default();
        let first = machine.bed().first().expect("the machine has needles");
        let front = |set: NeedleSet| -> Targets { Both { front: Some(Pick::These(set)), back: None } };
        let two = NeedleSet::span(Needle(first.0 + 1), Needle(first.0 + 2));
        state.apply(&machine, &Operation::InWork(front(two)));
        assert_eq!(drawn(&machine, &state), (".||...".to_owned(), "| in work and empty, . out of work".to_owned()));
        state.apply(&machine, &row(Action::Knit, true));
        assert_eq!(drawn(&machine, &state).0, ".oo...");
        state.apply(&machine, &row(Action::Knit, false));
        for tucks in 1..=9 {
            assert_eq!(drawn(&machine, &state).0, format!(".{tucks}{tucks}..."));
            state.apply(&machine, &row(Action::Tuck, false));
        }
        assert_eq!(drawn(&machine, &state), (".**...".to_owned(), ". out of work, * ten loops or more".to_owned()));
        state.apply(&machine, &Operation::Hold(front(NeedleSet::span(Needle(first.0 + 2), Needle(first.0 + 2)))));
        let words = ". out of work, h held, * ten loops or more";
        assert_eq!(drawn(&machine, &state), (".*h...".to_owned(), words.to_owned()));
    }
}
