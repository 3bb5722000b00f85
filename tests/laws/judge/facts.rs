//! What is wrong with one operation on the beds as they stand before it: errors that are a matter of fact, each by the
//! name of its rule, and the few warnings that are. Plain lists and loops, from the meanings of the language.

use super::read::Profile;
use crate::laws::second_model::{Asked, Model, Position, index};
use std::collections::{BTreeMap, BTreeSet};
use wale::beds::*;

/// The beds, and what else a knitter knows of the machine.
#[derive(Debug, Clone)]
pub(crate) struct Bench {
    pub(crate) model: Model,
    pub(crate) profile: Profile,
    pub(crate) yarn: Option<u16>,
    /// Each yarn that has been knitted with and not cut since.
    pub(crate) hangs: BTreeMap<u16, Hangs>,
    /// The stitch size, in hundredths.
    pub(crate) size: Option<i32>,
}

/// Where a yarn hangs.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Hangs {
    pub(crate) on_the_left: bool,
    /// The last needle of each bed, front and back, that took it in its last row; nothing when the hand has had it since.
    pub(crate) at: [Option<i32>; 2],
}

#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Facts {
    pub(crate) errors: BTreeSet<&'static str>,
    pub(crate) warnings: BTreeSet<&'static str>,
}

impl Facts {
    pub(crate) fn wrong(&mut self, is_so: bool, rule: &'static str) {
        if is_so {
            self.errors.insert(rule);
        }
    }

    pub(crate) fn warn(&mut self, is_so: bool, rule: &'static str) {
        if is_so {
            self.warnings.insert(rule);
        }
    }
}

/// The smallest and the largest stitch size of a machine that does not say otherwise, in hundredths.
const SIZES: std::ops::RangeInclusive<i32> = 0..=1000;

impl Bench {
    pub(crate) fn new(profile: Profile) -> Self {
        let first = 128 - profile.each_side;
        let limits = (-profile.racking.0, profile.racking.1);
        let model = Model::of((first, 2 * profile.each_side), limits, profile.back_racks, profile.stay);
        Self { model, profile, yarn: None, hangs: BTreeMap::new(), size: None }
    }

    /// Whether the transfer carriage can be set so that it takes the stitches of these needles and no others.
    fn carriage_takes(&self, from: usize, named: &[i32]) -> bool {
        let model = &self.model;
        let (all, other) = (model.all_loaded(from), model.all_loaded(1 - from));
        let going: Vec<i32> = all.iter().copied().filter(|at| named.contains(at)).collect();
        let Some(&first) = going.first() else { return true };
        let every_second = going == all.iter().copied().filter(|at| (at - first) % 2 == 0).collect::<Vec<_>>();
        // As the beds stand where the needles of one face the gaps of the other.
        let mut between = self.clone();
        between.model.opposite = false;
        let place = |bed: usize, at: i32| between.place(bed, at);
        let lone = |pair: &[i32]| {
            let (left, right) = (place(from, pair[0]), place(from, pair[1]));
            pair[1] - pair[0] > 1 || other.iter().any(|&at| (left + 1..right).contains(&place(1 - from, at)))
        };
        let can = |takes: &str| match takes {
            "every stitch" => going == all,
            "lone stitches" => going == all && going.windows(2).all(lone),
            "every second needle" => every_second,
            "picked needles" => self.profile.selectors[from],
            other => panic!("`{other}` is nothing that is taken"),
        };
        match self.profile.carriage_takes.as_slice() {
            // Where the profile does not say, it must be one that can be.
            [] => going == all || every_second || self.profile.selectors[from],
            said => said.iter().any(|takes| can(takes)),
        }
    }

    /// Where a needle stands: whole needles are 2.
    fn place(&self, bed: usize, at: i32) -> i32 {
        let half_step = match (self.model.opposite, self.profile.half_to_right) {
            (true, _) => 0,
            (false, true) => 1,
            (false, false) => -1,
        };
        if bed == 0 { 2 * at } else { 2 * (at + self.model.racking * self.model.step) + half_step }
    }

    /// What is asked of each bed, where the needles of that position are "those in work"; nothing if a picture does not
    /// fit.
    fn asked(&self, targets: &Targets, wanted: fn(Position) -> bool) -> Option<[Option<Asked>; 2]> {
        let mut asked = [None, None];
        for (bed, pick) in [&targets.front, &targets.back].into_iter().enumerate() {
            if let Some(pick) = pick {
                asked[bed] = Some(self.model.meant(bed, pick, &self.model.standing(bed, wanted))?);
            }
        }
        Some(asked)
    }

    /// Every needle asked for, with its bed, that the machine has; says so if it does not have one.
    fn needles(&self, asked: [Option<Asked>; 2], facts: &mut Facts) -> Vec<(usize, i32)> {
        let mut needles = Vec::new();
        for (bed, asked) in asked.into_iter().enumerate() {
            for at in asked.unwrap_or_default() {
                if self.model.exists(at) {
                    needles.push((bed, at));
                } else {
                    facts.wrong(true, "off-bed");
                }
            }
        }
        needles
    }

    /// What is wrong with the operation, asked before it is done. `first_pass` says whether it is done for the first
    /// time.
    pub(crate) fn facts(&self, operation: &Operation, first_pass: bool) -> Facts {
        let mut facts = Facts::default();
        if self.judge(operation, first_pass, &mut facts).is_none() {
            facts.wrong(true, "ragged-repeat");
        }
        facts
    }

    fn judge(&self, operation: &Operation, first_pass: bool, facts: &mut Facts) -> Option<()> {
        let model = &self.model;
        let anywhere = |position| position != Position::Out;
        let working = |position| position == Position::Work;
        match operation {
            Operation::InWork(targets) => {
                let needles = self.needles(model.asked_to_begin(targets)?, facts);
                let idle = needles.iter().all(|&(bed, at)| model.position(bed, at) == Position::Work);
                facts.warn(idle, "nothing-to-do");
            }
            Operation::OutOfWork(targets) => {
                let needles = self.needles(self.asked(targets, anywhere)?, facts);
                facts.wrong(needles.iter().any(|&(bed, at)| model.loaded(bed, at)), "lost-stitch");
                let idle = needles.iter().all(|&(bed, at)| model.position(bed, at) == Position::Out);
                facts.warn(idle, "nothing-to-do");
            }
            Operation::Hold(targets) => {
                let mut needles = self.needles(self.asked(targets, working)?, facts);
                // What is out of work cannot be held; what is held already may be named again.
                let out = needles.iter().any(|&(bed, at)| model.position(bed, at) == Position::Out);
                needles.retain(|&(bed, at)| model.position(bed, at) == Position::Work);
                facts.wrong(needles.iter().any(|&(bed, _)| !self.profile.hold[bed]), "wrong-bed");
                facts.warn(out || needles.is_empty(), "nothing-to-do");
            }
            Operation::Release(targets) => {
                let needles = self.needles(self.asked(targets, |position| position == Position::Held)?, facts);
                let idle = needles.iter().all(|&(bed, at)| model.position(bed, at) != Position::Held);
                facts.warn(idle, "nothing-to-do");
            }
            Operation::RackBy(steps) => self.judge_racking(model.racking + steps, facts),
            Operation::RackTo(place) => self.judge_racking(*place, facts),
            Operation::Carriage(side) => {
                let moves = model.on_the_left != (*side == Side::Left);
                facts.wrong(model.row > 0 && moves, "wrong-side");
            }
            Operation::StitchSize(sizes) => {
                facts.wrong(sizes.front.is_some_and(|size| !SIZES.contains(&size)), "size-range");
            }
            Operation::Gaiting(_)
            | Operation::Thread(_)
            | Operation::ResetCounter
            | Operation::FreePass
            | Operation::CutYarn => {}
            Operation::Row(row) => self.judge_row(row, first_pass, facts)?,
            Operation::CastOn(how, targets) => {
                let needles = self.needles(self.asked(targets, working)?, facts);
                self.judge_cast_on(*how, &needles, facts);
                if facts.warnings.contains("nothing-to-do") && self.serves_none(*how, &needles, facts) {
                    facts.warnings.remove("nothing-to-do");
                    facts.wrong(true, "no-needle-found");
                }
            }
            Operation::NewLoops(targets) => {
                let needles = self.needles(self.asked(targets, working)?, facts);
                self.judge_cast_on(CastOn::Wound, &needles, facts);
            }
            Operation::Transfer { from, pick, joining, tool, .. } => {
                let from = index(*from);
                let named = match pick {
                    Some(pick) => model.meant(from, pick, &model.working(from))?,
                    None => model.all_loaded(from),
                };
                let no_such_way = *tool == Some(Tool::Carriage) && !self.profile.carriage_to[1 - from];
                facts.wrong(no_such_way, "wrong-side");
                if !model.opposite {
                    facts.wrong(true, "not-opposite");
                    facts.wrong(named.iter().any(|&at| !model.exists(at)), "off-bed");
                    return Some(());
                }
                // The needle that stands at the same place on the other bed.
                let facing = |at: i32| {
                    (-99..99).find(|&other| self.place(1 - from, other) == self.place(from, at)).unwrap_or(-99)
                };
                let moves: Vec<_> = named.iter().map(|&at| (at, facing(at))).collect();
                self.judge_moves(from, 1 - from, &moves, *joining, facts);
                if *tool == Some(Tool::Carriage) && !no_such_way {
                    facts.wrong(!self.carriage_takes(from, &named), "not-by-carriage");
                }
            }
            Operation::Move { from, pick, to, by, joining, .. } => {
                let named = model.meant(index(*from), pick, &model.working(index(*from)))?;
                let moves: Vec<_> = named.iter().map(|&at| (at, at + by)).collect();
                self.judge_moves(index(*from), index(*to), &moves, *joining, facts);
            }
            Operation::Cross { bed, over, under } => {
                let bed = index(*bed);
                let (over, under) = (model.named_in(*over), model.named_in(*under));
                let (left, right) = if over[0] < under[0] { (over, under) } else { (under, over) };
                // The group on the left goes as many needles to the right as the other has, and the other way round.
                let mut moves: Vec<(i32, i32)> = left.iter().map(|&at| (at, at + right.len() as i32)).collect();
                moves.extend(right.iter().map(|&at| (at, at - left.len() as i32)));
                self.judge_moves(bed, bed, &moves, false, facts);
            }
            Operation::Increase(change) => self.judge_increase(change, facts),
            Operation::Decrease(change) => {
                let (mut model, bed) = (model.clone(), index(change.bed));
                for (named, outward) in [(change.left, -1), (change.right, 1)] {
                    if named {
                        let by = change.by as i32;
                        let moving = change.by.max(change.inset);
                        let group = model.edge(bed, outward, moving);
                        let all = model.edge(bed, outward, u32::MAX);
                        let has = |at: &i32| all.contains(&(at - outward * by));
                        let can = group.len() == moving as usize && group.iter().all(has);
                        facts.warn(!can, "nothing-to-do");
                        // The right edge is looked at after the left one has moved.
                        let one = EdgeChange { left: outward < 0, right: outward > 0, ..*change };
                        model.apply(&Operation::Decrease(one));
                    }
                }
            }
            Operation::Drop(targets) | Operation::BindOff(targets) | Operation::OntoWaste(targets, _) => {
                let needles = self.needles(self.asked(targets, anywhere)?, facts);
                let bare = needles.iter().any(|&(bed, at)| !model.loaded(bed, at));
                let loaded = needles.iter().any(|&(bed, at)| model.loaded(bed, at));
                let nothing =
                    matches!(operation, Operation::BindOff(_)) && !loaded && !facts.errors.contains("off-bed");
                facts.wrong(nothing, "no-needle-found");
                facts.warn(!nothing && (bare || needles.is_empty()), "nothing-to-do");
            }
            Operation::PickUp { targets, from_waste } => {
                let needles = self.needles(self.asked(targets, working)?, facts);
                let there = if from_waste.is_some() { model.book.waste } else { model.book.through };
                facts.warn(needles.is_empty(), "nothing-to-do");
                facts.wrong(there < needles.len() as u64, "too-few-to-pick-up");
            }
        }
        Some(())
    }

    fn judge_racking(&self, place: i32, facts: &mut Facts) {
        facts.wrong(place < self.model.limits.0 || place > self.model.limits.1, "racking-range");
    }

    /// Stitches go from needle to needle at the same time.
    fn judge_moves(&self, from: usize, to: usize, moves: &[(i32, i32)], joining: bool, facts: &mut Facts) {
        let model = &self.model;
        let gives = |at: i32| moves.iter().any(|&(from, _)| from == at) && model.loaded(from, at);
        let mut bare = moves.is_empty();
        for &(at, landing) in moves {
            if !model.exists(at) {
                facts.wrong(true, "off-bed");
            } else if !model.loaded(from, at) {
                bare = true;
            } else if !model.exists(landing) {
                facts.wrong(true, "lost-stitch");
            } else if from == to && gives(landing) {
                // Its needle is left by another stitch of the same move.
            } else if model.position(to, landing) == Position::Out {
                facts.wrong(true, "lost-stitch");
            } else {
                facts.wrong(model.loaded(to, landing) && !joining, "doubled-stitch");
            }
        }
        facts.warn(bare, "nothing-to-do");
    }

    fn judge_increase(&self, change: &EdgeChange, facts: &mut Facts) {
        let bed = index(change.bed);
        let mut model = self.model.clone();
        for (named, outward) in [(change.left, -1), (change.right, 1)] {
            if !named {
                continue;
            }
            let far = model.on_the_left == (outward > 0);
            facts.wrong(far && change.by > 1, "wrong-side");
            let group = model.edge(bed, outward, change.inset.max(1));
            let Some(&edge) = group.first() else {
                facts.warn(true, "nothing-to-do");
                continue;
            };
            let apart = group.iter().enumerate().any(|(at, &needle)| needle != edge - outward * at as i32);
            let taken = (1..=change.by as i32).any(|step| model.loaded(bed, edge + outward * step));
            if !model.exists(edge + outward * change.by as i32) {
                facts.wrong(true, "off-bed");
            } else if apart || taken || group.len() < change.inset as usize {
                facts.warn(true, "nothing-to-do");
            } else {
                facts.wrong(self.yarn.is_none(), "no-yarn");
            }
            let one = EdgeChange { left: outward < 0, right: outward > 0, ..*change };
            model.apply(&Operation::Increase(one));
        }
    }

    fn judge_cast_on(&self, how: CastOn, needles: &[(usize, i32)], facts: &mut Facts) {
        let model = &self.model;
        let by_carriage = matches!(how, CastOn::Zigzag | CastOn::Open);
        let mut made = Vec::new();
        for &(bed, at) in needles {
            if model.loaded(bed, at) {
                facts.wrong(true, "doubled-stitch");
            } else if by_carriage && model.position(bed, at) != Position::Work {
                facts.warn(true, "nothing-to-do");
            } else {
                made.push((bed, at));
            }
        }
        facts.warn(needles.is_empty(), "nothing-to-do");
        facts.wrong(self.yarn.is_none() && !made.is_empty(), "no-yarn");
        facts.wrong(how == CastOn::Wound && self.is_wound_across(&made), "wrong-side");
        if by_carriage {
            let path = self.path(&made);
            let shares = path.windows(2).any(|pair| pair[0].0 == pair[1].0);
            facts.wrong(how == CastOn::Zigzag && shares, "cast-on-shares-a-loop");
            self.judge_collisions(&made, facts);
            self.judge_yarn(facts);
        }
    }

    /// Whether several loops are wound past the far edge of what hangs, with none on the way there.
    fn is_wound_across(&self, made: &[(usize, i32)]) -> bool {
        let Some(hangs) = self.hanging() else { return false };
        let beds = 0..2;
        let hung = beds.flat_map(|bed| self.model.all_loaded(bed).into_iter().map(move |at| (bed, at)));
        let hung: Vec<_> = hung.map(|(bed, at)| self.place(bed, at)).collect();
        let (Some(&left), Some(&right)) = (hung.iter().min(), hung.iter().max()) else { return false };
        let places = || made.iter().map(|&(bed, at)| self.place(bed, at));
        let past = places().filter(|&place| if hangs.on_the_left { place > right } else { place < left }).count();
        past > 1 && !places().any(|place| (left..=right).contains(&place))
    }

    /// Needles in the order in which the yarn meets them.
    fn path(&self, acting: &[(usize, i32)]) -> Vec<(usize, i32)> {
        let mut path = acting.to_vec();
        path.sort_by_key(|&(bed, at)| (self.place(bed, at), bed));
        if !self.model.on_the_left {
            path.reverse();
        }
        path
    }

    /// Needles that come forward in this pass and meet one of the other bed.
    /// Whether a cast-on finds none of the needles asked for ready, and that is all there is to say of them.
    fn serves_none(&self, how: CastOn, needles: &[(usize, i32)], facts: &Facts) -> bool {
        let model = &self.model;
        let by_hand = !matches!(how, CastOn::Zigzag | CastOn::Open);
        let ready = |bed, at| by_hand || model.position(bed, at) == Position::Work;
        !facts.errors.contains("off-bed") && !needles.iter().any(|&(bed, at)| model.loaded(bed, at) || ready(bed, at))
    }

    fn judge_collisions(&self, acting: &[(usize, i32)], facts: &mut Facts) {
        for &(bed, at) in acting {
            for other in 0..self.model.width() {
                if self.place(bed, at) == self.place(1 - bed, other) {
                    facts.wrong(acting.contains(&(1 - bed, other)), "facing-needles");
                    let held = self.model.position(1 - bed, other) == Position::Held;
                    facts.wrong(held, "needle-in-the-way");
                }
            }
        }
    }

    fn judge_yarn(&self, facts: &mut Facts) {
        let elsewhere = self.hanging().is_some_and(|hangs| hangs.on_the_left != self.model.on_the_left);
        facts.warn(elsewhere, "yarn-not-at-this-side");
    }

    fn judge_row(&self, row: &Row, first_pass: bool, facts: &mut Facts) -> Option<()> {
        let model = &self.model;
        let toward = if model.on_the_left { Side::Right } else { Side::Left };
        let work = match (&row.work, toward) {
            (Work::Same(work), _) => work,
            (Work::ByDirection { to_left, .. }, Side::Left) => to_left,
            (Work::ByDirection { to_right, .. }, Side::Right) => to_right,
        };
        let (mut knits, mut tucks) = (Vec::new(), Vec::new());
        let mut idle = false;
        let mut told_in_vain = false;
        for (bed, work) in [&work.front, &work.back].into_iter().enumerate() {
            let working = model.working(bed);
            let mut parts = Vec::new();
            for (action, pick) in &work.picked {
                let meant = model.meant(bed, pick, &working)?;
                facts.wrong(meant.iter().any(|&at| !model.exists(at)), "off-bed");
                idle |= meant.iter().any(|&at| model.exists(at) && model.position(bed, at) == Position::Out);
                parts.push((*action, meant));
            }
            let mut kinds = Vec::new();
            for &at in &working {
                let part = parts.iter().find(|(_, meant)| meant.contains(&at));
                let action = part.map_or(work.elsewhere, |(action, _)| *action);
                match action {
                    Action::Knit => knits.push((bed, at)),
                    Action::Tuck => tucks.push((bed, at)),
                    Action::Slip => {}
                }
                if !kinds.contains(&action) {
                    kinds.push(action);
                }
            }
            facts.warn(kinds.len() > 1 && !self.profile.selectors[bed], "no-selector");
            let told = work.elsewhere != Action::Slip || parts.iter().any(|(action, _)| *action != Action::Slip);
            told_in_vain |= told && model.standing(bed, |position| position != Position::Out).is_empty();
        }
        let acting: Vec<_> = knits.iter().chain(&tucks).copied().collect();
        let caught: Vec<_> = acting.iter().copied().filter(|&(bed, at)| !model.loaded(bed, at)).collect();

        facts.wrong(row.toward.is_some_and(|claimed| claimed != toward), "wrong-side");
        facts.wrong(self.yarn.is_none() && !acting.is_empty(), "no-yarn");
        facts.wrong(!caught.is_empty() && !row.new_loops, "unplanned-loop");
        let path = self.path(&acting);
        let shared = path
            .windows(2)
            .any(|pair| pair[0].0 == pair[1].0 && caught.contains(&pair[0]) && caught.contains(&pair[1]));
        facts.wrong(row.new_loops && shared, "adjacent-empties");
        self.judge_collisions(&acting, facts);
        let full = tucks.iter().any(|&(bed, at)| {
            let loops = &model.beds[bed][at as usize].loops;
            loops.iter().filter(|strand| strand.caught).count() + 1 > self.profile.most_tucks
        });
        // Of a machine that does not say how many, nobody knows that it is wrong.
        if self.profile.says_most_tucks {
            facts.wrong(full, "tuck-pile");
        }
        for size in [row.sizes.front, row.sizes.back].into_iter().flatten() {
            let size = match (size, self.size) {
                (RowSize::To(size), _) => Some(size),
                (RowSize::By(by), Some(set)) => Some(set + by),
                (RowSize::By(_), None) => None,
            };
            facts.wrong(size.is_some_and(|size| !SIZES.contains(&size)), "size-range");
        }

        let in_vain = row.new_loops && caught.is_empty() && first_pass;
        // The way back of a row that knits the other way brings only the yarn back.
        let other_way = match (&row.work, toward) {
            (Work::Same(_), _) => None,
            (Work::ByDirection { to_right, .. }, Side::Left) => Some(to_right),
            (Work::ByDirection { to_left, .. }, Side::Right) => Some(to_left),
        };
        let knits_there = other_way.is_some_and(|work| {
            [&work.front, &work.back].into_iter().any(|work| {
                work.elsewhere != Action::Slip || work.picked.iter().any(|(action, _)| *action != Action::Slip)
            })
        });
        let any_in_work = (0..2).any(|bed| !model.working(bed).is_empty());
        let says_nothing = [&work.front, &work.back].into_iter().all(|work| {
            work.elsewhere == Action::Slip && work.picked.iter().all(|(action, _)| *action == Action::Slip)
        });
        let only_back = knits_there && any_in_work && says_nothing;
        facts.warn(idle || acting.is_empty() && !only_back || told_in_vain || in_vain, "nothing-to-do");
        self.judge_yarn(facts);
        Some(())
    }

    /// Where the yarn in the feeder hangs, if it has been knitted with.
    fn hanging(&self) -> Option<Hangs> {
        self.yarn.and_then(|yarn| self.hangs.get(&yarn).copied())
    }

    /// Whether the stitch at which a yarn hangs is still on its needle. Of the last needles of both beds it hangs at the
    /// one that is farther out; face to face, at the front one.
    fn hangs_at_a_stitch(&self, hangs: Hangs) -> bool {
        let mut ends: Vec<_> =
            (0..2).filter_map(|bed| hangs.at[bed].map(|at| (self.place(bed, at), bed, at))).collect();
        ends.sort_by_key(|&(place, bed, _)| (if hangs.on_the_left { place } else { -place }, bed));
        ends.first().is_some_and(|&(_, bed, at)| self.model.loaded(bed, at))
    }

    /// Does the operation.
    pub(crate) fn apply(&mut self, operation: &Operation) {
        let before = self.model.clone();
        self.model.apply(operation);
        let loops = |model: &Model| model.beds.iter().flatten().map(|hook| hook.loops.clone()).collect::<Vec<_>>();
        let changed = loops(&before) != loops(&self.model);
        let hanging = self.hanging();
        match operation {
            Operation::Thread(yarn) => self.yarn = Some(yarn.0),
            Operation::StitchSize(sizes) => self.size = sizes.front.or(self.size),
            Operation::CutYarn => drop(self.yarn.map(|yarn| self.hangs.remove(&yarn))),
            // What hangs at a stitch is used to bind it off. Waste yarn is another yarn.
            Operation::BindOff(_) | Operation::OntoWaste(..) if changed => {
                let waste = matches!(operation, Operation::OntoWaste(..));
                let stays =
                    self.model.on_needles() > 0 && hanging.is_some_and(|hangs| waste || self.hangs_at_a_stitch(hangs));
                if !stays {
                    self.yarn.map(|yarn| self.hangs.remove(&yarn));
                }
            }
            Operation::NewLoops(_)
            | Operation::CastOn(CastOn::Wound | CastOn::Chain, _)
            | Operation::PickUp { .. }
            | Operation::Drop(_)
            | Operation::Increase(_)
            | Operation::Decrease(_)
                if changed =>
            {
                if let Some(hangs) = self.yarn.and_then(|yarn| self.hangs.get_mut(&yarn)) {
                    hangs.at = [None, None];
                }
            }
            _ => {}
        }
        if self.model.row > before.row
            && let Some(yarn) = self.yarn
        {
            let (left, row) = (self.model.on_the_left, self.model.row);
            // The needles that have a loop of this row.
            let took = |bed: usize, at: i32| {
                self.model.beds[bed][at as usize].loops.last().is_some_and(|strand| strand.row == row)
            };
            let mut at = [0, 1].map(|bed| {
                let mut took = (0..self.model.width()).filter(|&at| took(bed, at));
                if left { took.next() } else { took.next_back() }
            });
            if at == [None, None] {
                at = hanging.map_or(at, |hangs| hangs.at);
            }
            self.hangs.insert(yarn, Hangs { on_the_left: left, at });
        }
    }
}
