//! A second model of the beds: one list of needles for each bed, one list of loops for each needle. Written from the
//! meanings of the language, slow and plain, to hold the first one against.

use std::collections::HashMap;
use wale::beds::{
    Action, Bed, BedWork, CastOn, EdgeChange, Gaiting, Machine, Needle, NeedleSet, Operation, Pick, RowSize, Side,
    Targets, Waste, Work,
};

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Position {
    Out,
    Work,
    Held,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Strand {
    pub(crate) row: u64,
    pub(crate) yarn: u16,
    pub(crate) caught: bool,
    /// How large it was drawn.
    pub(crate) size: Size,
}

/// How large a loop was drawn, as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Size {
    Hand,
    CastOn,
    /// In a row: at which size, and how far above the usual one.
    Row(Option<i32>, Option<i32>),
}

#[derive(Debug, Clone)]
pub(crate) struct Hook {
    pub(crate) position: Position,
    /// The oldest first.
    pub(crate) loops: Vec<Strand>,
}

/// Where all loops went: made, knitted through, bound off, dropped, on waste yarn, lost.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Book {
    pub(crate) made: u64,
    pub(crate) through: u64,
    pub(crate) bound: u64,
    pub(crate) dropped: u64,
    pub(crate) waste: u64,
    pub(crate) lost: u64,
}

#[derive(Debug, Clone)]
pub(crate) struct Model {
    /// The number of the far left needle.
    pub(crate) first: i32,
    /// Front, then back.
    pub(crate) beds: [Vec<Hook>; 2],
    pub(crate) opposite: bool,
    pub(crate) racking: i32,
    pub(crate) limits: (i32, i32),
    /// How many places the back bed goes to the right for one step.
    pub(crate) step: i32,
    stay: bool,
    pub(crate) on_the_left: bool,
    yarn: Option<u16>,
    /// For each bed the stitch size that is set.
    sizes: [Option<i32>; 2],
    /// For each bed the rows without a size of their own since its cast-on by the carriage: yarn and size. A transfer, or a
    /// move to the other bed, is a break, which stands as nothing.
    plain: [Vec<Option<(u16, i32)>>; 2],
    pub(crate) row: u64,
    pub(crate) counter: u64,
    pub(crate) book: Book,
    /// How many of the loops on waste yarn hang on which.
    hung_by: HashMap<Waste, u64>,
}

/// Needles asked for; an index may lie beside the bed.
pub(crate) type Asked = Vec<i32>;

pub(crate) fn index(bed: Bed) -> usize {
    match bed {
        Bed::Front => 0,
        Bed::Back => 1,
    }
}

impl Model {
    pub(crate) fn new(machine: &Machine, first: u8, needles: u8) -> Self {
        let limits = (-(machine.racking_left as i32), machine.racking_right as i32);
        Self::of((first, needles), limits, machine.racking_bed == Bed::Back, machine.emptied_stay.value)
    }

    /// A model of a machine by its far left needle and its number of needles, how far it racks to the left (below 0) and
    /// to the right, whether it is the back bed that racks, and whether emptied needles stay in work.
    pub(crate) fn of((first, needles): (u8, u8), limits: (i32, i32), back_racks: bool, stay: bool) -> Self {
        let empty = || (0..needles).map(|_| Hook { position: Position::Out, loops: Vec::new() }).collect();
        Self {
            first: i32::from(first),
            beds: [empty(), empty()],
            opposite: false,
            racking: 0,
            limits,
            step: if back_racks { 1 } else { -1 },
            stay,
            on_the_left: true,
            yarn: None,
            sizes: [None; 2],
            plain: [Vec::new(), Vec::new()],
            row: 0,
            counter: 0,
            hung_by: HashMap::new(),
            book: Book::default(),
        }
    }

    pub(crate) fn width(&self) -> i32 {
        self.beds[0].len() as i32
    }

    pub(crate) fn exists(&self, at: i32) -> bool {
        (0..self.width()).contains(&at)
    }

    fn hook(&mut self, bed: usize, at: i32) -> &mut Hook {
        &mut self.beds[bed][at as usize]
    }

    pub(crate) fn position(&self, bed: usize, at: i32) -> Position {
        if self.exists(at) { self.beds[bed][at as usize].position } else { Position::Out }
    }

    pub(crate) fn loaded(&self, bed: usize, at: i32) -> bool {
        self.exists(at) && !self.beds[bed][at as usize].loops.is_empty()
    }

    pub(crate) fn all_loaded(&self, bed: usize) -> Asked {
        (0..self.width()).filter(|&at| self.loaded(bed, at)).collect()
    }

    pub(crate) fn standing(&self, bed: usize, wanted: impl Fn(Position) -> bool) -> Asked {
        (0..self.width()).filter(|&at| wanted(self.position(bed, at))).collect()
    }

    pub(crate) fn working(&self, bed: usize) -> Asked {
        self.standing(bed, |position| position == Position::Work)
    }

    pub(crate) fn named_in(&self, set: NeedleSet) -> Asked {
        (0..=255_u8)
            .filter(|&number| set.contains(Needle(number)))
            .map(|number| i32::from(number) - self.first)
            .collect()
    }

    /// The needles that a pick means out of those, from left to right; none when a tile does not fit.
    pub(crate) fn meant(&self, bed: usize, pick: &Pick, of: &Asked) -> Option<Asked> {
        let mut meant = match pick {
            Pick::These(set) => self.named_in(*set),
            Pick::InWork => of.clone(),
            Pick::Loaded => self.all_loaded(bed),
            Pick::Empty => of.iter().copied().filter(|&at| !self.loaded(bed, at)).collect(),
            Pick::Leftmost(count) => of.iter().copied().take(*count as usize).collect(),
            Pick::Rightmost(count) => of.iter().copied().rev().take(*count as usize).collect(),
            Pick::Every(step) => {
                of.iter().copied().enumerate().filter(|(at, _)| at % *step as usize == 0).map(|(_, at)| at).collect()
            }
            Pick::Tile(tile) => match (of.first(), of.last()) {
                (Some(&first), Some(&last)) => {
                    let tiles = tile.marks.len() as i32;
                    if (last - first + 1) % tiles != 0 {
                        return None;
                    }
                    (first..=last).filter(|at| tile.marks[((at - first) % tiles) as usize]).collect()
                }
                _ => Vec::new(),
            },
            Pick::And(pair) => {
                let two = self.meant(bed, &pair.1, of);
                let one = self.meant(bed, &pair.0, of)?;
                let two = two?;
                one.into_iter().filter(|at| two.contains(at)).collect()
            }
            Pick::Or(pair) => {
                let mut one = self.meant(bed, &pair.0, of)?;
                one.extend(self.meant(bed, &pair.1, of)?);
                one
            }
            Pick::AllBut(inner) => {
                let not = self.meant(bed, inner, of)?;
                of.iter().copied().filter(|at| !not.contains(at)).collect()
            }
        };
        meant.sort_unstable();
        meant.dedup();
        Some(meant)
    }

    /// The needles named on both beds that exist; none when a tile does not fit.
    fn named(&self, targets: &Targets, wanted: impl Fn(Position) -> bool) -> Option<[Asked; 2]> {
        let mut named = [Vec::new(), Vec::new()];
        for (bed, pick) in [&targets.front, &targets.back].into_iter().enumerate() {
            if let Some(pick) = pick {
                let all = self.meant(bed, pick, &self.standing(bed, &wanted))?;
                named[bed] = all.into_iter().filter(|&at| self.exists(at)).collect();
            }
        }
        Some(named)
    }

    /// The needles named to come into work. What is not a list of needles is a picture of the other bed: of its needles in
    /// work, with those that the same line names for it one by one.
    pub(crate) fn asked_to_begin(&self, targets: &Targets) -> Option<[Option<Asked>; 2]> {
        let picks = [&targets.front, &targets.back];
        let mut named = [None, None];
        for bed in 0..2 {
            let Some(pick) = picks[bed] else { continue };
            let over = 1 - bed;
            let mut shown = self.working(over);
            if let Some(Pick::These(set)) = picks[over] {
                shown.extend(self.named_in(*set).into_iter().filter(|&at| self.exists(at)));
                shown.sort_unstable();
                shown.dedup();
            }
            named[bed] = Some(self.meant(over, pick, &shown)?);
        }
        Some(named)
    }

    fn new_strand(&self, caught: bool) -> Strand {
        Strand { row: self.row, yarn: self.yarn.unwrap_or(0), caught, size: Size::Hand }
    }

    /// A stitch that is wound, cast on or hung on top.
    fn add_stitch(&mut self, bed: usize, at: i32) {
        let strand = self.new_strand(false);
        self.hook(bed, at).loops.push(strand);
    }

    fn bring_into_work(&mut self, bed: usize, at: i32) {
        if self.position(bed, at) == Position::Out {
            self.hook(bed, at).position = Position::Work;
        }
    }

    fn take_all(&mut self, bed: usize, at: i32) -> u64 {
        let taken = self.hook(bed, at).loops.len() as u64;
        self.hook(bed, at).loops.clear();
        taken
    }

    fn cross_the_bed(&mut self) {
        self.on_the_left = !self.on_the_left;
    }

    /// Does an operation; a tile that does not fit leaves everything as it is.
    pub(crate) fn apply(&mut self, operation: &Operation) {
        let _ = self.try_apply(operation);
    }

    fn try_apply(&mut self, operation: &Operation) -> Option<()> {
        match operation {
            Operation::InWork(targets) => {
                for (bed, named) in self.asked_to_begin(targets)?.into_iter().enumerate() {
                    let there = named.unwrap_or_default().into_iter().filter(|&at| self.exists(at)).collect::<Vec<_>>();
                    there.into_iter().for_each(|at| self.hook(bed, at).position = Position::Work);
                }
            }
            Operation::OutOfWork(targets) => {
                for (bed, named) in self.named(targets, |position| position != Position::Out)?.into_iter().enumerate() {
                    for at in named {
                        self.hook(bed, at).position = Position::Out;
                        self.book.lost += self.take_all(bed, at);
                    }
                }
            }
            Operation::Hold(targets) => self.put(targets, Position::Work, Position::Held)?,
            Operation::Release(targets) => self.put(targets, Position::Held, Position::Work)?,
            Operation::Gaiting(gaiting) => self.opposite = *gaiting == Gaiting::Opposite,
            Operation::RackBy(steps) => self.rack(self.racking + steps),
            Operation::RackTo(place) => self.rack(*place),
            Operation::Thread(yarn) => self.yarn = Some(yarn.0),
            Operation::StitchSize(sizes) => {
                self.sizes = [sizes.front.or(self.sizes[0]), sizes.back.or(self.sizes[1])];
            }
            Operation::Carriage(side) => {
                if self.row == 0 {
                    self.on_the_left = *side == Side::Left;
                }
            }
            Operation::ResetCounter => self.counter = 0,
            Operation::Row(row) => {
                let beds = match (&row.work, self.on_the_left) {
                    (Work::Same(beds), _) => beds,
                    (Work::ByDirection { to_right, .. }, true) => to_right,
                    (Work::ByDirection { to_left, .. }, false) => to_left,
                };
                self.knit_row([&beds.front, &beds.back], [row.sizes.front, row.sizes.back])?;
            }
            Operation::FreePass => self.cross_the_bed(),
            Operation::CastOn(how, targets) => self.cast_on(*how, targets)?,
            Operation::NewLoops(targets) => self.cast_on(CastOn::Wound, targets)?,
            Operation::Transfer { from, pick, emptied_stay, .. } => {
                let from = index(*from);
                let donors = match pick {
                    Some(pick) => self.meant(from, pick, &self.working(from))?,
                    None => self.all_loaded(from),
                };
                if self.opposite {
                    // Back needle i faces front needle i + offset.
                    let offset = self.racking * self.step;
                    let by = if from == 0 { -offset } else { offset };
                    self.carry(from, 1 - from, &donors, by, *emptied_stay);
                }
            }
            Operation::Move { from, pick, to, by, emptied_stay, .. } => {
                let from = index(*from);
                let donors = self.meant(from, pick, &self.working(from))?;
                self.carry(from, index(*to), &donors, *by, *emptied_stay);
            }
            Operation::Cross { bed, over, under } => {
                let bed = index(*bed);
                let (over, under) = (self.named_in(*over), self.named_in(*under));
                let mut places: Asked = over.iter().chain(&under).copied().collect();
                places.sort_unstable();
                if places.iter().all(|&at| self.position(bed, at) != Position::Out) {
                    // Each group keeps its order; the one that was right of the other is now left of it.
                    let (left, right) = if over[0] < under[0] { (over, under) } else { (under, over) };
                    let order = right.into_iter().chain(left);
                    let lifted: Vec<_> = order.map(|at| std::mem::take(&mut self.hook(bed, at).loops)).collect();
                    for (at, loops) in places.into_iter().zip(lifted) {
                        self.hook(bed, at).loops = loops;
                    }
                }
            }
            Operation::Increase(change) => self.each_edge(change, Self::increase),
            Operation::Decrease(change) => self.each_edge(change, Self::decrease),
            Operation::Drop(targets) => self.book.dropped += self.taken_off(targets)?,
            Operation::BindOff(targets) => self.book.bound += self.taken_off(targets)?,
            Operation::OntoWaste(targets, waste) => {
                let more = self.taken_off(targets)?;
                self.book.waste += more;
                *self.hung_by.entry(waste.clone()).or_default() += more;
            }
            // Where yarn hangs is no part of this model.
            Operation::CutYarn => {}
            Operation::PickUp { targets, from_waste } => {
                let named = self.named(targets, |position| position == Position::Work)?;
                let asked = (named[0].len() + named[1].len()) as u64;
                let there = match from_waste {
                    Some(waste) => self.hung_by.entry(waste.clone()).or_default(),
                    None => &mut self.book.through,
                };
                if *there >= asked {
                    *there -= asked;
                    if from_waste.is_some() {
                        self.book.waste -= asked;
                    }
                    for (bed, named) in named.into_iter().enumerate() {
                        for at in named {
                            self.bring_into_work(bed, at);
                            self.add_stitch(bed, at);
                        }
                    }
                }
            }
        }
        Some(())
    }

    fn put(&mut self, targets: &Targets, from: Position, to: Position) -> Option<()> {
        for (bed, named) in self.named(targets, |position| position == from)?.into_iter().enumerate() {
            for at in named {
                if self.position(bed, at) == from {
                    self.hook(bed, at).position = to;
                }
            }
        }
        Some(())
    }

    fn rack(&mut self, place: i32) {
        if (self.limits.0..=self.limits.1).contains(&place) {
            self.racking = place;
        }
    }

    fn knit_row(&mut self, work: [&BedWork; 2], own: [Option<RowSize>; 2]) -> Option<()> {
        // What each needle does is settled before any of them moves.
        let mut does = Vec::new();
        for (bed, work) in work.into_iter().enumerate() {
            let working = self.working(bed);
            let mut actions: Vec<Option<Action>> = vec![None; self.beds[bed].len()];
            for (action, pick) in &work.picked {
                for at in self.meant(bed, pick, &working)? {
                    if self.exists(at) {
                        actions[at as usize].get_or_insert(*action);
                    }
                }
            }
            for at in working {
                does.push((bed, at, actions[at as usize].unwrap_or(work.elsewhere)));
            }
        }
        self.row += 1;
        self.counter += 1;
        self.cross_the_bed();
        for (bed, rows) in self.plain.iter_mut().enumerate() {
            let works = does.iter().any(|&(of, _, action)| of == bed && action != Action::Slip);
            if let (true, None, Some(set), Some(yarn)) = (works, own[bed], self.sizes[bed], self.yarn) {
                rows.push(Some((yarn, set)));
            }
        }
        let sizes = [0, 1].map(|bed| self.drawn(bed, own[bed]));
        for (bed, at, action) in does {
            match action {
                Action::Slip => {}
                Action::Knit if self.loaded(bed, at) => {
                    self.book.through += self.take_all(bed, at);
                    let strand = Strand { size: sizes[bed], ..self.new_strand(false) };
                    self.hook(bed, at).loops.push(strand);
                    self.book.made += 1;
                }
                Action::Knit | Action::Tuck => {
                    let strand = Strand { size: sizes[bed], ..self.new_strand(true) };
                    self.hook(bed, at).loops.push(strand);
                    self.book.made += 1;
                }
            }
        }
        Some(())
    }

    /// How large a row is drawn. The usual size is that of the last eight plain rows in a row of one size and this yarn; where
    /// the row has a size of its own, the size that is set may be it as well. A hundred to four hundred above it is right for
    /// a transfer, and of two usual sizes the one counts that shows it so, or from which it is less far off.
    fn drawn(&self, bed: usize, own: Option<RowSize>) -> Size {
        let set = self.sizes[bed];
        let size = match (own, set) {
            (Some(RowSize::By(by)), None) => return Size::Row(None, Some(by)),
            (Some(RowSize::By(by)), Some(set)) => Some(set + by),
            (Some(RowSize::To(size)), _) => Some(size),
            (None, set) => set,
        };
        let mut candidates: Vec<i32> = if own.is_some() { set.into_iter().collect() } else { Vec::new() };
        let long =
            self.plain[bed].windows(8).rev().find(|rows| rows[0].is_some() && rows.iter().all(|row| *row == rows[0]));
        if let Some(Some((yarn, usual))) = long.map(|rows| rows[0])
            && Some(yarn) == self.yarn
        {
            candidates.push(usual);
        }
        let off = |above: i32| {
            if above < 100 {
                100 - above
            } else if above > 400 {
                above - 400
            } else {
                0
            }
        };
        let above =
            size.and_then(|size| candidates.into_iter().map(|usual| size - usual).min_by_key(|&above| off(above)));
        Size::Row(size, above)
    }

    fn cast_on(&mut self, how: CastOn, targets: &Targets) -> Option<()> {
        let named = self.named(targets, |position| position == Position::Work)?;
        let carriage = matches!(how, CastOn::Zigzag | CastOn::Open);
        if carriage {
            self.row += 1;
            self.counter += 1;
            self.cross_the_bed();
        }
        for (bed, named) in named.into_iter().enumerate() {
            for at in named {
                if self.loaded(bed, at) || carriage && self.position(bed, at) != Position::Work {
                    continue;
                }
                self.bring_into_work(bed, at);
                let size = if carriage { Size::CastOn } else { Size::Hand };
                let strand = Strand { size, ..self.new_strand(false) };
                self.hook(bed, at).loops.push(strand);
                if carriage {
                    self.plain[bed].clear();
                }
                self.book.made += 1;
            }
        }
        Some(())
    }

    fn taken_off(&mut self, targets: &Targets) -> Option<u64> {
        let mut taken = 0;
        for (bed, named) in self.named(targets, |position| position != Position::Out)?.into_iter().enumerate() {
            for at in named {
                taken += self.take_all(bed, at);
            }
        }
        Some(taken)
    }

    /// Stacks go `by` places to the right, whole, on top of what is there. What arrives on no needle is lost.
    fn carry(&mut self, from: usize, to: usize, donors: &Asked, by: i32, emptied_stay: Option<bool>) {
        let donors: Asked = donors.iter().copied().filter(|&at| self.loaded(from, at)).collect();
        if from != to && !donors.is_empty() {
            self.plain.iter_mut().for_each(|rows| rows.push(None));
        }
        let lifted: Vec<_> = donors.iter().map(|&at| std::mem::take(&mut self.hook(from, at).loops)).collect();
        for (&at, loops) in donors.iter().zip(lifted) {
            let landing = at + by;
            let ready = self.position(to, landing) != Position::Out || (from == to && donors.contains(&landing));
            if ready && self.exists(landing) {
                self.hook(to, landing).loops.extend(loops);
            } else {
                self.book.lost += loops.len() as u64;
            }
        }
        if !emptied_stay.unwrap_or(self.stay) {
            for at in donors {
                if !self.loaded(from, at) {
                    self.hook(from, at).position = Position::Out;
                }
            }
        }
    }

    /// At the left edge outward is -1, at the right edge 1.
    fn each_edge(&mut self, change: &EdgeChange, change_edge: fn(&mut Self, &EdgeChange, usize, i32)) {
        for (named, outward) in [(change.left, -1), (change.right, 1)] {
            if named {
                change_edge(self, change, index(change.bed), outward);
            }
        }
    }

    /// That many loaded needles from the edge inward; held ones do not count.
    pub(crate) fn edge(&self, bed: usize, outward: i32, count: u32) -> Asked {
        let mut loaded = self.all_loaded(bed);
        loaded.retain(|&at| self.position(bed, at) != Position::Held);
        if outward > 0 {
            loaded.reverse();
        }
        loaded.truncate(count as usize);
        loaded
    }

    /// The edge grows by so many needles: the edge group steps out, and every needle it leaves or passes gets a stitch.
    fn increase(&mut self, change: &EdgeChange, bed: usize, outward: i32) {
        let Some(&edge) = self.edge(bed, outward, 1).first() else { return };
        let by = change.by as i32;
        let group = self.edge(bed, outward, change.inset);
        // A group that moves together stands side by side.
        let together = group.iter().enumerate().all(|(at, &needle)| needle == edge - outward * at as i32);
        let taken = (1..=by).any(|step| self.loaded(bed, edge + outward * step));
        if !self.exists(edge + outward * by) || taken || group.len() < change.inset as usize || !together {
            return;
        }
        let lifted: Vec<_> = group.iter().map(|&at| std::mem::take(&mut self.hook(bed, at).loops)).collect();
        for (&at, loops) in group.iter().zip(lifted) {
            self.hook(bed, at + outward * by).loops = loops;
        }
        for step in 1..=by {
            self.hook(bed, edge + outward * step).position = Position::Work;
        }
        for step in (1 - group.len() as i32)..=by {
            let at = edge + outward * step;
            if !self.loaded(bed, at) {
                self.add_stitch(bed, at);
                self.book.made += 1;
            }
        }
    }

    /// The edge group steps inward; the needles it leaves empty go out of work.
    fn decrease(&mut self, change: &EdgeChange, bed: usize, outward: i32) {
        let moving = change.by.max(change.inset);
        let group = self.edge(bed, outward, moving);
        let inward = -outward * change.by as i32;
        let all = self.edge(bed, outward, u32::MAX);
        if group.len() < moving as usize || group.iter().any(|&at| !all.contains(&(at + inward))) {
            return;
        }
        let lifted: Vec<_> = group.iter().map(|&at| std::mem::take(&mut self.hook(bed, at).loops)).collect();
        for (&at, loops) in group.iter().zip(lifted) {
            self.hook(bed, at + inward).loops.extend(loops);
        }
        for at in group {
            if !self.loaded(bed, at) {
                self.hook(bed, at).position = Position::Out;
            }
        }
    }

    /// Loops on all needles.
    pub(crate) fn on_needles(&self) -> u64 {
        self.beds.iter().flatten().map(|hook| hook.loops.len() as u64).sum()
    }

    /// Needles of a bed that carry a stitch; a loop that was only caught is none.
    pub(crate) fn stitches(&self, bed: Bed) -> u64 {
        let carries = |hook: &&Hook| hook.loops.iter().any(|strand| !strand.caught);
        self.beds[index(bed)].iter().filter(carries).count() as u64
    }
}
