//! Adds a trace up again from its JSON alone, loop by loop, and compares: what the needles named must have done to the
//! loops with what the trace says stands afterwards. It shares nothing with the compiler: a needle is a number, a bed a
//! list of stacks, and the meanings are written out here a second time.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

type Stack = Vec<Loop>;

/// A loop, which is a stitch or only caught.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Loop {
    Stitch,
    Caught,
}

#[derive(Default)]
struct Bed {
    in_work: BTreeSet<i64>,
    held: BTreeSet<i64>,
    stacks: BTreeMap<i64, Stack>,
}

#[derive(Default)]
struct Machine {
    beds: BTreeMap<&'static str, Bed>,
    ledger: BTreeMap<&'static str, u64>,
    rows: u64,
    counter: u64,
    carriage_at_right: bool,
    /// Steps to the right of the centre.
    racking: i64,
    moves_front_bed: bool,
    opposite: bool,
    each_side: i64,
}

const COLUMNS: [&str; 6] = ["on_needles", "knitted_through", "bound_off", "dropped", "on_waste", "lost"];
const BEDS: [&str; 2] = ["front", "back"];

/// Adds up every piece of a trace.
///
/// # Errors
/// What does not agree, and where.
pub(crate) fn readd(trace: &Value) -> Result<(), String> {
    for size in list(trace, "sizes") {
        for piece in list(size, "pieces") {
            add_piece(piece).map_err(|said| format!("{}: {said}", piece["piece"]))?;
        }
    }
    Ok(())
}

fn list<'v>(value: &'v Value, name: &str) -> &'v [Value] {
    value[name].as_array().map_or(&[], Vec::as_slice)
}

fn add_piece(piece: &Value) -> Result<(), String> {
    let mut machine = Machine {
        moves_front_bed: piece["machine"]["racking_bed"] == "front",
        each_side: number(&piece["machine"]["needles_each_side"]),
        ..Machine::default()
    };
    for bed in BEDS {
        machine.beds.insert(bed, Bed::default());
    }
    for column in COLUMNS.into_iter().chain(["made"]) {
        machine.ledger.insert(column, 0);
    }
    for (index, entry) in list(piece, "operations").iter().enumerate() {
        let said = |said: String| format!("entry {}: {said}\n{entry}", index + 1);
        agree("number", &entry["number"], index as i64 + 1).map_err(said)?;
        if entry["not_done"].is_null() {
            machine.add(entry).map_err(said)?;
        }
        machine.compare(&entry["after"]).map_err(said)?;
    }
    machine.compare_totals(&piece["totals"], list(piece, "operations").len())
}

fn number(value: &Value) -> i64 {
    value.as_i64().unwrap_or(i64::MIN)
}

fn agree(name: &str, said: &Value, added: i64) -> Result<(), String> {
    if number(said) == added { Ok(()) } else { Err(format!("{name}: the trace says {said}, the sum is {added}")) }
}

fn must(is_so: bool, said: &str) -> Result<(), String> {
    if is_so { Ok(()) } else { Err(said.to_owned()) }
}

/// A needle as a number: `R1` is 0, `L1` is -1.
fn needle(name: &str) -> Result<i64, String> {
    let (side, number) = name.split_at_checked(1).ok_or("a needle without a name")?;
    let number: i64 = number.parse().map_err(|_| format!("`{name}` is no needle"))?;
    match side {
        "L" if number > 0 => Ok(-number),
        "R" if number > 0 => Ok(number - 1),
        _ => Err(format!("`{name}` is no needle")),
    }
}

/// The needles of a list of spans, which go from left to right without meeting.
fn spans(value: &Value) -> Result<Vec<i64>, String> {
    let mut needles: Vec<i64> = Vec::new();
    for span in value.as_array().into_iter().flatten() {
        let span = span.as_str().ok_or("a span that is no text")?;
        let (first, last) = span.split_once('-').unwrap_or((span, span));
        let (first, last) = (needle(first)?, needle(last)?);
        must(first <= last && needles.last().is_none_or(|before| before + 1 < first), "spans that are not in order")?;
        needles.extend(first..=last);
    }
    Ok(needles)
}

/// A number with a word beside it for its direction, counted to the right.
fn directed(value: &Value, number_name: &str, side_name: &str) -> Result<i64, String> {
    let size = number(&value[number_name]);
    match (size, value[side_name].as_str()) {
        (0, None) => Ok(0),
        (1.., Some("right")) => Ok(size),
        (1.., Some("left")) => Ok(-size),
        _ => Err(format!("{value} has no clear direction")),
    }
}

impl Machine {
    fn bed(&mut self, name: &str) -> Result<&mut Bed, String> {
        self.beds.get_mut(name).ok_or_else(|| format!("`{name}` is no bed"))
    }

    fn book(&mut self, column: &'static str, loops: usize) {
        *self.ledger.entry(column).or_default() += loops as u64;
    }

    fn unbook(&mut self, column: &'static str, loops: usize) -> Result<(), String> {
        let there = self.ledger.entry(column).or_default();
        *there = there.checked_sub(loops as u64).ok_or_else(|| format!("fewer than 0 loops in `{column}`"))?;
        Ok(())
    }

    /// A new loop on each needle.
    fn make(&mut self, bed: &str, needles: &[i64], what: Loop) -> Result<(), String> {
        for needle in needles {
            self.bed(bed)?.stacks.entry(*needle).or_default().push(what);
        }
        self.book("made", needles.len());
        self.book("on_needles", needles.len());
        Ok(())
    }

    /// All loops of the needles into another column; each must have some.
    fn take(&mut self, bed: &str, needles: &[i64], column: &'static str) -> Result<(), String> {
        for needle in needles {
            let stack = self.bed(bed)?.stacks.remove(needle).ok_or("loops taken from an empty needle")?;
            self.unbook("on_needles", stack.len())?;
            self.book(column, stack.len());
        }
        Ok(())
    }

    fn carriage_goes(&mut self, way: &Value) -> Result<(), String> {
        let side = |at_right: bool| if at_right { "right" } else { "left" };
        must(way["from"] == side(self.carriage_at_right), "the carriage does not stand there")?;
        must(way["to"] == side(!self.carriage_at_right), "the carriage does not get to the other side")?;
        self.carriage_at_right = !self.carriage_at_right;
        Ok(())
    }

    fn one_more_row(&mut self) {
        self.rows += 1;
        self.counter += 1;
    }

    fn add(&mut self, entry: &Value) -> Result<(), String> {
        match entry["what"].as_str().unwrap_or_default() {
            "in work" => self.put(entry, |bed, needle| bed.held.remove(&needle) | bed.in_work.insert(needle)),
            "hold" => self.put(entry, |bed, needle| bed.in_work.remove(&needle) & bed.held.insert(needle)),
            "release" => self.put(entry, |bed, needle| bed.held.remove(&needle) & bed.in_work.insert(needle)),
            "out of work" => {
                for name in BEDS {
                    let changed = spans(&entry[name]["changed"])?;
                    let loaded: Vec<i64> =
                        changed.iter().copied().filter(|at| self.beds[name].stacks.contains_key(at)).collect();
                    must(loaded == spans(&entry[name]["lost"])?, "the needles that lose their loops are others")?;
                    self.take(name, &loaded, "lost")?;
                }
                self.put(entry, |bed, needle| bed.in_work.remove(&needle) | bed.held.remove(&needle))
            }
            "gaiting" => {
                self.opposite = entry["to"] == "opposite";
                Ok(())
            }
            "rack" => {
                self.racking = directed(&entry["to"], "steps", "side")?;
                Ok(())
            }
            "carriage" => {
                self.carriage_at_right = entry["at"] == "right";
                Ok(())
            }
            "reset counter" => {
                self.counter = 0;
                Ok(())
            }
            "row" => self.row(entry),
            "free pass" => self.carriage_goes(&entry["carriage"]),
            "cast on" => {
                let by_carriage = matches!(entry["how"].as_str(), Some("zigzag" | "open"));
                must(by_carriage == entry["carriage"].is_object(), "a carriage where hands cast on, or none")?;
                if by_carriage {
                    self.carriage_goes(&entry["carriage"])?;
                    self.one_more_row();
                }
                self.by_hand(entry, None)
            }
            "new loops" => self.by_hand(entry, None),
            "drop" => self.by_hand(entry, Some("dropped")),
            "bind off" => self.by_hand(entry, Some("bound_off")),
            "onto waste yarn" => self.by_hand(entry, Some("on_waste")),
            "pick up" => {
                self.by_hand(entry, Some(if entry["from"] == "waste yarn" { "on_waste" } else { "knitted_through" }))
            }
            "transfer" => {
                must(self.opposite, "a transfer where the beds do not face")?;
                let offset = if self.moves_front_bed { -self.racking } else { self.racking };
                let by = if entry["from"] == "front" { -offset } else { offset };
                must(directed(&entry["by"], "needles", "toward")? == by, "not the facing needle")?;
                self.carry(entry)
            }
            "move" => self.carry(entry),
            "cross" => self.cross(entry),
            "increase" | "decrease" => self.edges(entry),
            "thread" | "cut yarn" | "stitch size" | "expect" => Ok(()),
            // What is only said to the knitter comes without the statement it stands in.
            _ if entry["source"].is_null() => Ok(()),
            other => Err(format!("`{other}` is no operation")),
        }
    }

    fn put(&mut self, entry: &Value, change: impl Fn(&mut Bed, i64) -> bool) -> Result<(), String> {
        for name in BEDS {
            for needle in spans(&entry[name]["changed"])? {
                must(change(self.bed(name)?, needle), "a needle that does not change its position")?;
            }
        }
        Ok(())
    }

    fn row(&mut self, entry: &Value) -> Result<(), String> {
        self.carriage_goes(&entry["carriage"])?;
        self.one_more_row();
        for name in BEDS {
            let [knit, tuck, slip, caught] = ["knit", "tuck", "slip", "caught"].map(|role| spans(&entry[name][role]));
            let (knit, tuck, slip, caught) = (knit?, tuck?, slip?, caught?);
            let all: BTreeSet<i64> = knit.iter().chain(&tuck).chain(&slip).copied().collect();
            must(all.len() == knit.len() + tuck.len() + slip.len(), "a needle that does two things")?;
            must(all == self.beds[name].in_work, "not every needle in work does something, or another one does")?;
            let stacks = &self.beds[name].stacks;
            let (drawn, empty): (Vec<i64>, Vec<i64>) = knit.iter().partition(|needle| stacks.contains_key(needle));
            let laid: Vec<i64> = tuck.iter().chain(&empty).copied().collect();
            let first_loops: BTreeSet<i64> =
                laid.iter().copied().filter(|needle| !stacks.contains_key(needle)).collect();
            must(first_loops == caught.into_iter().collect(), "the needles that catch a loop are others")?;
            self.take(name, &drawn, "knitted_through")?;
            self.make(name, &drawn, Loop::Stitch)?;
            self.make(name, &laid, Loop::Caught)?;
        }
        Ok(())
    }

    fn by_hand(&mut self, entry: &Value, column: Option<&'static str>) -> Result<(), String> {
        for name in BEDS {
            let (made, again) = (spans(&entry[name]["made"])?, spans(&entry[name]["picked_up"])?);
            must(made.iter().all(|at| !self.beds[name].stacks.contains_key(at)), "a new loop on a loaded needle")?;
            if entry["carriage"].is_object() {
                let serves = |needle| self.beds[name].in_work.contains(needle);
                must(made.iter().all(serves), "the carriage casts on a needle that is not in work")?;
            }
            self.make(name, &made, Loop::Stitch)?;
            for &needle in &again {
                self.unbook(column.unwrap_or("made"), 1)?;
                self.book("on_needles", 1);
                self.bed(name)?.stacks.entry(needle).or_default().push(Loop::Stitch);
            }
            for needle in made.into_iter().chain(again) {
                self.comes_into_work(name, needle)?;
            }
            self.take(name, &spans(&entry[name]["taken"])?, column.unwrap_or("lost"))?;
        }
        Ok(())
    }

    fn comes_into_work(&mut self, bed: &str, needle: i64) -> Result<(), String> {
        let bed = self.bed(bed)?;
        if !bed.held.contains(&needle) {
            bed.in_work.insert(needle);
        }
        Ok(())
    }

    fn goes_out_of_work(&mut self, bed: &str, needles: &Value) -> Result<(), String> {
        for needle in spans(needles)? {
            let bed = self.bed(bed)?;
            must(!bed.stacks.contains_key(&needle), "a loaded needle goes out of work")?;
            must(bed.in_work.remove(&needle) | bed.held.remove(&needle), "a needle that was out of work goes there")?;
        }
        Ok(())
    }

    /// Takes the stacks of the donors off, each with its receiver.
    fn lift(&mut self, bed: &str, group: &Value, lost: &[i64]) -> Result<Vec<(i64, Stack)>, String> {
        let by = directed(&group["by"], "needles", "toward")?;
        let donors: Vec<i64> = spans(&group["donors"])?.into_iter().filter(|needle| !lost.contains(needle)).collect();
        let receivers = spans(&group["receivers"])?;
        must(donors.iter().map(|needle| needle + by).eq(receivers.iter().copied()), "the receivers are others")?;
        let stacks = &mut self.bed(bed)?.stacks;
        donors
            .into_iter()
            .zip(receivers)
            .map(|(donor, receiver)| Ok((receiver, stacks.remove(&donor).ok_or("a donor without loops")?)))
            .collect()
    }

    /// Lays stacks on their receivers and gives those that were loaded.
    fn lay(&mut self, bed: &str, lifted: Vec<(i64, Stack)>) -> Result<Vec<i64>, String> {
        let mut joined = Vec::new();
        let bed = self.bed(bed)?;
        for (receiver, stack) in lifted {
            must(bed.in_work.contains(&receiver) || bed.held.contains(&receiver), "a receiver out of work")?;
            let there = bed.stacks.entry(receiver).or_default();
            if !there.is_empty() {
                joined.push(receiver);
            }
            there.extend(stack);
        }
        Ok(joined)
    }

    fn carry(&mut self, entry: &Value) -> Result<(), String> {
        let [from, to] = ["from", "to"].map(|name| entry[name].as_str().unwrap_or_default());
        let lost = spans(&entry["lost"])?;
        self.take(from, &lost, "lost")?;
        let lifted = self.lift(from, entry, &lost)?;
        // Where a group moves within its bed, its own needles are ready for it although they may have been lifted.
        let joined = self.lay(to, lifted)?;
        must(joined == spans(&entry["joined"])?, "the needles that carry more are others")?;
        self.goes_out_of_work(from, &entry["put_out_of_work"])
    }

    fn cross(&mut self, entry: &Value) -> Result<(), String> {
        let bed = entry["bed"].as_str().unwrap_or_default();
        let mut lifted = Vec::new();
        for group in ["under", "over"] {
            if entry[group].is_object() {
                lifted.extend(self.lift(bed, &entry[group], &[])?);
            }
        }
        must(self.lay(bed, lifted)?.is_empty(), "crossed stitches lie on others")
    }

    fn edges(&mut self, entry: &Value) -> Result<(), String> {
        let bed = entry["bed"].as_str().unwrap_or_default();
        for edge in list(entry, "edges") {
            for needle in spans(&edge["put_in_work"])? {
                self.bed(bed)?.held.remove(&needle);
                self.bed(bed)?.in_work.insert(needle);
            }
            if edge["group"].is_object() {
                let lifted = self.lift(bed, &edge["group"], &[])?;
                let joined = self.lay(bed, lifted)?;
                must(joined == spans(&edge["joined"])?, "the needles that carry more are others")?;
            }
            let made = spans(&edge["made"])?;
            must(made.iter().all(|at| !self.beds[bed].stacks.contains_key(at)), "a new loop on a loaded needle")?;
            self.make(bed, &made, Loop::Stitch)?;
            self.goes_out_of_work(bed, &edge["put_out_of_work"])?;
        }
        Ok(())
    }

    fn compare(&self, after: &Value) -> Result<(), String> {
        agree("row", &after["row"], self.rows as i64)?;
        agree("counter", &after["counter"], self.counter as i64)?;
        must(
            after["carriage"] == if self.carriage_at_right { "right" } else { "left" },
            "the carriage stands elsewhere",
        )?;
        must(after["gaiting"] == if self.opposite { "opposite" } else { "between" }, "the gaiting is another one")?;
        must(directed(&after["racking"], "steps", "side")? == self.racking, "the racking is another one")?;
        for bed in BEDS {
            let carries = |stack: &&Stack| stack.contains(&Loop::Stitch);
            agree(bed, &after["stitches"][bed], self.beds[bed].stacks.values().filter(carries).count() as i64)?;
            let ends = -self.each_side..self.each_side;
            must(self.beds[bed].stacks.keys().all(|needle| ends.contains(needle)), "a loop beside the bed")?;
        }
        let loops: usize = self.beds.values().flat_map(|bed| bed.stacks.values()).map(Vec::len).sum();
        agree("loops", &after["ledger"]["on_needles"], loops as i64)?;
        self.compare_ledger(&after["ledger"])
    }

    fn compare_ledger(&self, ledger: &Value) -> Result<(), String> {
        for (column, loops) in &self.ledger {
            agree(column, &ledger[column], *loops as i64)?;
        }
        let sum: i64 = COLUMNS.iter().map(|column| number(&ledger[column])).sum();
        agree("made", &ledger["made"], sum)
    }

    fn compare_totals(&self, totals: &Value, entries: usize) -> Result<(), String> {
        agree("entries", &totals["entries"], entries as i64)?;
        agree("rows", &totals["rows"], self.rows as i64)?;
        self.compare_ledger(&totals["ledger"])?;
        for (name, bed) in &self.beds {
            let stitches =
                bed.stacks.iter().filter(|(_, stack)| stack.contains(&Loop::Stitch)).map(|(needle, _)| *needle);
            let told =
                |role: &str| -> Result<BTreeSet<i64>, String> { Ok(spans(&totals[name][role])?.into_iter().collect()) };
            must(told("in_work")? == bed.in_work, "other needles are in work at the end")?;
            must(told("held")? == bed.held, "other needles are held at the end")?;
            must(told("loaded")? == bed.stacks.keys().copied().collect(), "other needles are loaded at the end")?;
            must(told("stitches")? == stitches.collect(), "other needles carry a stitch at the end")?;
        }
        Ok(())
    }
}
