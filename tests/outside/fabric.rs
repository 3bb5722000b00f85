//! Reads a trace and works out the fabric that it makes: every loop, what it was drawn through, how the yarn runs, and which
//! way loops lean. It takes nothing from wale but the JSON: a bed is 0 (front) or 1 (back), a needle a number, and the
//! meanings of the operations are written out here once more.

use super::hand::Said;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

const BEDS: [&str; 2] = ["front", "back"];

/// A loop that was made in a row, or cast on.
#[derive(Debug)]
pub(crate) struct Loop {
    pub(crate) bed: usize,
    pub(crate) needle: i64,
    /// The row it was made in; none for what was cast on.
    pub(crate) course: Option<usize>,
    /// Whether its needle kept what it held, or held nothing.
    pub(crate) is_tuck: bool,
    /// The loops it was drawn through, as numbers.
    pub(crate) through: Vec<usize>,
    /// The row in which another one was drawn through it.
    pub(crate) cleared: Option<usize>,
}

/// One row.
#[derive(Debug)]
pub(crate) struct Course {
    /// Front and back.
    pub(crate) knit: [BTreeSet<i64>; 2],
    pub(crate) tuck: [BTreeSet<i64>; 2],
    pub(crate) slip: [BTreeSet<i64>; 2],
    /// The loops made, as numbers, from left to right.
    pub(crate) loops: Vec<usize>,
    pub(crate) to_the_right: bool,
    /// How far the back bed's needle of the same name stands to the right of the front bed's, in half needles.
    pub(crate) offset: i64,
}

/// One racking, in half needles that the back bed goes to the right against the front bed.
#[derive(Debug)]
pub(crate) struct Rack {
    /// Rows of the marked part before it.
    pub(crate) after: usize,
    pub(crate) by: i64,
}

/// What was made between `mark "begin"` and `mark "end"`, with all loops before it.
#[derive(Debug, Default)]
pub(crate) struct Fabric {
    pub(crate) loops: Vec<Loop>,
    /// All rows; those that are marked are from `begin` to before `end`.
    pub(crate) courses: Vec<Course>,
    pub(crate) begin: usize,
    pub(crate) end: usize,
    pub(crate) racks: Vec<Rack>,
    /// Stacks on the needles of each bed at both marks, and after each marked row; loops by their numbers, oldest first.
    pub(crate) at_begin: [BTreeMap<i64, Vec<usize>>; 2],
    pub(crate) at_end: [BTreeMap<i64, Vec<usize>>; 2],
    /// The stacks before each row.
    pub(crate) before: Vec<[BTreeMap<i64, Vec<usize>>; 2]>,
    /// Crossings of the marked part: rows of it before each, and the needles of the groups in front and behind.
    pub(crate) crossings: Vec<(usize, Vec<i64>, Vec<i64>)>,
    now: [BTreeMap<i64, Vec<usize>>; 2],
    gaiting_between: bool,
    /// Half needles that the back bed is racked to the right.
    racked: i64,
    half_step: i64,
    back_racks: bool,
    looking: bool,
    mirrored: bool,
}

fn number(value: &Value) -> i64 {
    value.as_i64().unwrap_or(i64::MIN)
}

fn needle(name: &str) -> Result<i64, String> {
    let wrong = || format!("`{name}` is no needle");
    let (side, number) = name.split_at_checked(1).ok_or_else(wrong)?;
    let number: i64 = number.parse().map_err(|_| wrong())?;
    Ok(if side == "L" { -number } else { number - 1 })
}

/// A number with a word for its direction, counted to the right.
fn directed(value: &Value, number_name: &str, side_name: &str) -> i64 {
    let size = number(&value[number_name]);
    if value[side_name] == "left" { -size } else { size }
}

impl Fabric {
    /// Reads the only piece of a trace. Of the mirror image the fabric is given as it is seen in the mirror.
    pub(crate) fn read(trace: &Value, mirrored: bool) -> Result<Self, String> {
        let piece = &trace["sizes"][0]["pieces"][0];
        let machine = &piece["machine"];
        let mut fabric = Self {
            gaiting_between: true,
            half_step: if machine["half_step_to"] == "left" { -1 } else { 1 },
            back_racks: machine["racking_bed"] == "back",
            mirrored,
            ..Self::default()
        };
        for entry in piece["operations"].as_array().into_iter().flatten() {
            must!(entry["not_done"].is_null(), "not done: {entry}");
            fabric.add(entry).map_err(|said| format!("{said}\n{entry}"))?;
        }
        must!(fabric.end > fabric.begin, "no rows are marked");
        Ok(fabric)
    }

    /// The needles of a list of spans.
    fn spans(&self, value: &Value) -> Result<Vec<i64>, String> {
        let mut needles = Vec::new();
        for span in value.as_array().into_iter().flatten() {
            let span = span.as_str().ok_or("a span that is no text")?;
            let (first, last) = span.split_once('-').unwrap_or((span, span));
            needles.extend(needle(first)?..=needle(last)?);
        }
        if self.mirrored {
            needles = needles.into_iter().rev().map(|at| -1 - at).collect();
        }
        Ok(needles)
    }

    fn offset(&self) -> i64 {
        let offset = self.racked + if self.gaiting_between { self.half_step } else { 0 };
        if self.mirrored { -offset } else { offset }
    }

    fn add(&mut self, entry: &Value) -> Said {
        match entry["what"].as_str().unwrap_or_default() {
            "mark" if entry["text"] == "begin" => {
                (self.looking, self.begin, self.at_begin) = (true, self.courses.len(), self.now.clone());
            }
            "mark" if entry["text"] == "end" => {
                (self.looking, self.end, self.at_end) = (false, self.courses.len(), self.now.clone());
            }
            "gaiting" => self.gaiting_between = entry["to"] == "between",
            "rack" => {
                let from = self.offset();
                let steps = directed(&entry["to"], "steps", "side");
                self.racked = if self.back_racks { 2 * steps } else { -2 * steps };
                if self.looking {
                    let (after, by) = (self.courses.len() - self.begin, self.offset() - from);
                    self.racks.push(Rack { after, by });
                }
            }
            "cast on" | "new loops" => {
                for bed in 0..2 {
                    for at in self.spans(&entry[BEDS[bed]]["made"])? {
                        self.make(bed, at, None, false, Vec::new());
                    }
                }
            }
            "row" => self.row(entry)?,
            "transfer" | "move" => self.carry(entry)?,
            "cross" => {
                let bed = usize::from(entry["bed"] == "back");
                let groups = [&entry["over"], &entry["under"]];
                let over = self.spans(&groups[0]["donors"])?;
                let under = self.spans(&groups[1]["donors"])?;
                self.shift(bed, bed, &groups.map(|group| (&group["donors"], &group["by"])))?;
                if self.looking {
                    self.crossings.push((self.courses.len() - self.begin, over, under));
                }
            }
            "bind off" | "onto waste yarn" | "drop" => {
                for bed in 0..2 {
                    for at in self.spans(&entry[BEDS[bed]]["taken"])? {
                        self.now[bed].remove(&at);
                    }
                }
            }
            "in work" | "out of work" | "thread" | "stitch size" | "carriage" | "cut yarn" => {}
            _ if entry["source"].is_null() => {}
            other => return Err(format!("this reader does not know `{other}`")),
        }
        Ok(())
    }

    fn make(&mut self, bed: usize, needle: i64, course: Option<usize>, is_tuck: bool, through: Vec<usize>) -> usize {
        let made = self.loops.len();
        self.loops.push(Loop { bed, needle, course, is_tuck, through, cleared: None });
        self.now[bed].entry(needle).or_default().push(made);
        made
    }

    fn row(&mut self, entry: &Value) -> Said {
        let this = self.courses.len();
        self.before.push(self.now.clone());
        let offset = self.offset();
        let mut course = Course {
            knit: Default::default(),
            tuck: Default::default(),
            slip: Default::default(),
            loops: Vec::new(),
            to_the_right: (entry["carriage"]["to"] == "right") != self.mirrored,
            offset,
        };
        for bed in 0..2 {
            let did = &entry[BEDS[bed]];
            for at in self.spans(&did["knit"])? {
                let held = self.now[bed].remove(&at).unwrap_or_default();
                for &old in &held {
                    self.loops[old].cleared = Some(this);
                }
                // On an empty needle it is caught and no more.
                course.loops.push(self.make(bed, at, Some(this), held.is_empty(), held));
                course.knit[bed].insert(at);
            }
            for at in self.spans(&did["tuck"])? {
                course.loops.push(self.make(bed, at, Some(this), true, Vec::new()));
                course.tuck[bed].insert(at);
            }
            course.slip[bed] = self.spans(&did["slip"])?.into_iter().collect();
        }
        course.loops.sort_by_key(|&it| (place(&self.loops[it], offset), self.loops[it].bed));
        self.courses.push(course);
        Ok(())
    }

    fn carry(&mut self, entry: &Value) -> Said {
        let bed = |name: &str| usize::from(entry[name] == "back");
        must!(entry["lost"].is_null(), "loops are lost");
        self.shift(bed("from"), bed("to"), &[(&entry["donors"], &entry["by"])])
    }

    /// Takes all stacks off, then lays each so many needles farther.
    fn shift(&mut self, from: usize, to: usize, groups: &[(&Value, &Value)]) -> Said {
        let mut lifted = Vec::new();
        for (donors, by) in groups {
            let by = directed(by, "needles", "toward") * if self.mirrored { -1 } else { 1 };
            for at in self.spans(donors)? {
                let stack = self.now[from].remove(&at).ok_or("a donor without loops")?;
                lifted.push((at + by, stack));
            }
        }
        for (at, stack) in lifted {
            self.now[to].entry(at).or_default().extend(stack);
        }
        Ok(())
    }

    /// The marked rows.
    pub(crate) fn marked(&self) -> &[Course] {
        &self.courses[self.begin..self.end]
    }

    /// After how many marked rows the needles do the same again.
    pub(crate) fn period(&self) -> usize {
        let rows = self.marked();
        let same = |one: &Course, two: &Course| (&one.knit, &one.tuck) == (&two.knit, &two.tuck);
        (1..=rows.len()).find(|&by| (by..rows.len()).all(|at| same(&rows[at], &rows[at - by]))).unwrap_or(rows.len())
    }

    /// The needles of a bed that are in work in the marked rows.
    pub(crate) fn working(&self, bed: usize) -> BTreeSet<i64> {
        let sets = |row: &Course| [row.knit[bed].clone(), row.tuck[bed].clone(), row.slip[bed].clone()];
        self.marked().iter().flat_map(sets).flatten().collect()
    }

    /// How often each needle of a bed knits and tucks in one period; none where they differ, or where it is no whole number.
    pub(crate) fn in_a_period(&self, bed: usize) -> Option<(usize, usize)> {
        let rows = &self.marked()[..self.period()];
        let of = |at: &i64| {
            let count =
                |set: fn(&Course) -> &[BTreeSet<i64>; 2]| rows.iter().filter(|row| set(row)[bed].contains(at)).count();
            (count(|row| &row.knit), count(|row| &row.tuck))
        };
        let counts: BTreeSet<(usize, usize)> = self.working(bed).iter().map(of).collect();
        if counts.len() == 1 { counts.first().copied() } else { None }
    }

    /// `K`, `T`, `-` for a needle in work that lets the yarn pass, `.` for one that does nothing.
    pub(crate) fn did(&self, row: usize, bed: usize, at: i64) -> char {
        let row = &self.marked()[row];
        let marks = [(&row.knit, 'K'), (&row.tuck, 'T'), (&row.slip, '-')];
        marks.into_iter().find(|(set, _)| set[bed].contains(&at)).map_or('.', |(_, mark)| mark)
    }

    /// The beds of the loops of a marked row, in the way of the yarn from left to right.
    pub(crate) fn path(&self, row: usize) -> Vec<usize> {
        self.marked()[row].loops.iter().map(|&it| self.loops[it].bed).collect()
    }

    /// How often the yarn goes over to the other bed within a marked row.
    pub(crate) fn links(&self, row: usize) -> usize {
        self.path(row).windows(2).filter(|pair| pair[0] != pair[1]).count()
    }

    /// How many loops of one bed follow each other in the way of the yarn, edges left out.
    pub(crate) fn inner_runs(&self, row: usize) -> BTreeSet<(usize, usize)> {
        let path = self.path(row);
        let runs: Vec<(usize, usize)> = path.chunk_by(|one, two| one == two).map(|run| (run[0], run.len())).collect();
        runs.get(1..runs.len().saturating_sub(1)).unwrap_or_default().iter().copied().collect()
    }

    /// The only bed that takes the yarn in a marked row.
    pub(crate) fn alone(&self, row: usize) -> Option<usize> {
        let beds: BTreeSet<usize> = self.path(row).into_iter().collect();
        if beds.len() == 1 { beds.first().copied() } else { None }
    }

    /// Whether all needles of a bed knit in a marked row.
    pub(crate) fn all_knit(&self, row: usize, bed: usize) -> bool {
        self.marked()[row].knit[bed] == self.working(bed)
    }

    /// Whether all needles of a bed tuck in a marked row.
    pub(crate) fn all_tuck(&self, row: usize, bed: usize) -> bool {
        self.marked()[row].tuck[bed] == self.working(bed)
    }

    /// The beds on which the stitches of a wale were drawn in the marked rows, from the newest down: face is 0, reverse 1.
    /// Spencer 2001, Knitting notations: a stitch is judged at its base, by the loop that it was drawn through.
    pub(crate) fn wale(&self, top: usize) -> Vec<usize> {
        let mut faces = Vec::new();
        let mut at = Some(top);
        while let Some(one) = at {
            let it = &self.loops[one];
            match it.course {
                Some(course) if course >= self.begin => faces.push(it.bed),
                _ => break,
            }
            at = it.through.first().copied();
        }
        faces
    }

    /// Which way a loop leans: that in which its needle went past a needle of the other bed that took the yarn beside it,
    /// while both loops hung in their hooks. 1 to the right, -1 to the left, 0 where it went past none.
    pub(crate) fn lean(&self, it: usize) -> i64 {
        let this = &self.loops[it];
        let Some(course) = this.course else { return 0 };
        let row = &self.courses[course];
        let Some(at) = row.loops.iter().position(|other| *other == it) else { return 0 };
        let beside =
            [at.checked_sub(1), Some(at + 1)].into_iter().flatten().filter_map(|at| row.loops.get(at).copied());
        for other in beside.map(|other| &self.loops[other]).filter(|other| other.bed != this.bed) {
            let off = this.cleared.into_iter().chain(other.cleared).min();
            let Some(fast) = off.and_then(|off| self.courses.get(off)) else { continue };
            let apart = |offset: i64| place(this, offset) - place(other, offset);
            let (before, after) = (apart(row.offset), apart(fast.offset));
            if before.signum() != after.signum() && after != 0 {
                return after.signum();
            }
        }
        0
    }

    /// Which way the stitches lean that a bed knits in a marked row; none where they lean both ways, 0 where none leans.
    pub(crate) fn lean_of(&self, row: usize, bed: usize) -> Option<i64> {
        let row = &self.marked()[row];
        let knitted = row.loops.iter().filter(|it| self.loops[**it].bed == bed && !self.loops[**it].is_tuck);
        let ways: BTreeSet<i64> = knitted.map(|it| self.lean(*it)).filter(|way| *way != 0).collect();
        match ways.len() {
            0 => Some(0),
            1 => ways.first().copied(),
            _ => None,
        }
    }

    /// The needle of the bed with that number in half needles from the front bed's `R1`.
    pub(crate) fn place_of(bed: usize, at: i64, offset: i64) -> i64 {
        2 * at + if bed == 1 { offset } else { 0 }
    }
}

fn place(it: &Loop, offset: i64) -> i64 {
    Fabric::place_of(it.bed, it.needle, offset)
}
