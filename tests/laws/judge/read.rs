//! Reads the text of a small pattern word by word: what the judge goes by. It knows the lines that are written in these
//! tests and no others, and has nothing from the compiler but the names of the operations.

use wale::beds::*;

/// What is said of the machine.
#[derive(Debug, Clone)]
pub(crate) struct Profile {
    pub(crate) each_side: u8,
    pub(crate) back_racks: bool,
    /// Whether a back needle stands to the right of the front needle of its name, where the needles of one bed face the
    /// gaps of the other.
    pub(crate) half_to_right: bool,
    /// Steps to the left and to the right of the centre.
    pub(crate) racking: (i32, i32),
    /// Front, then back.
    pub(crate) selectors: [bool; 2],
    pub(crate) hold: [bool; 2],
    pub(crate) stay: bool,
    /// To the front bed, to the back bed.
    pub(crate) carriage_to: [bool; 2],
    /// What the transfer carriage takes, as it is written; nothing where that is not said.
    pub(crate) carriage_takes: Vec<String>,
    pub(crate) most_tucks: usize,
    pub(crate) says_most_tucks: bool,
}

#[derive(Debug, Clone)]
pub(crate) enum Promised {
    Stitches { count: u64, front: bool, back: bool },
    OnTheLeft(bool),
    Counter(u64),
    Opposite(bool),
    Racking(i32),
}

#[derive(Debug, Clone)]
pub(crate) enum Deed {
    Do(Operation),
    /// One row several times.
    Rows(u64, Operation),
    Repeat(u64, Vec<Line>),
    /// A rule that is allowed in a block.
    Allow(String, Vec<Line>),
    Expect(Vec<Promised>),
}

/// A statement and the number of its line in the text, from 1.
#[derive(Debug, Clone)]
pub(crate) struct Line {
    pub(crate) number: usize,
    pub(crate) deed: Deed,
}

/// A pattern of one machine and one piece.
#[derive(Debug)]
pub(crate) struct Pattern {
    pub(crate) profile: Profile,
    pub(crate) lines: Vec<Line>,
    /// The line of the brace that ends the piece.
    pub(crate) end: usize,
}

/// The words of a line, commas by themselves.
struct Words<'a> {
    words: Vec<&'a str>,
    at: usize,
}

impl<'a> Words<'a> {
    fn of(line: &'a str) -> Self {
        let mut words = Vec::new();
        for word in line.split_whitespace() {
            match word.strip_suffix(',') {
                Some(word) => words.extend([word, ","]),
                None => words.push(word),
            }
        }
        Self { words, at: 0 }
    }

    fn peek(&self) -> &'a str {
        self.words.get(self.at).copied().unwrap_or("")
    }

    fn next(&mut self) -> &'a str {
        let word = self.peek();
        self.at += 1;
        word
    }

    /// Goes on if these words stand here.
    fn take(&mut self, said: &str) -> bool {
        let said: Vec<&str> = said.split(' ').collect();
        let here = self.words[self.at.min(self.words.len())..].starts_with(&said);
        self.at += if here { said.len() } else { 0 };
        here
    }

    fn number<T: std::str::FromStr>(&mut self) -> T {
        let word = self.next();
        word.parse().unwrap_or_else(|_| panic!("a number, not `{word}` in {:?}", self.words))
    }

    fn over(&self) -> bool {
        self.at >= self.words.len()
    }

    /// `0 left`, `2 right`: below 0 to the left.
    fn way(&mut self) -> i32 {
        let steps: i32 = self.number();
        if self.next() == "left" { -steps } else { steps }
    }

    fn bed(&mut self) -> Bed {
        match self.next() {
            "front" => Bed::Front,
            "back" => Bed::Back,
            word => panic!("a bed, not `{word}` in {:?}", self.words),
        }
    }

    fn one_pick(&mut self) -> Pick {
        match self.next() {
            "all" if self.take("but") => Pick::AllBut(Box::new(self.one_pick())),
            "all" => Pick::InWork,
            "loaded" => Pick::Loaded,
            "empty" => Pick::Empty,
            "leftmost" => Pick::Leftmost(self.number()),
            "rightmost" => Pick::Rightmost(self.number()),
            "every" => Pick::Every(self.number()),
            word => match word.strip_prefix('"') {
                Some(marks) => {
                    Pick::Tile(Tile { marks: marks.trim_end_matches('"').chars().map(|mark| mark == '|').collect() })
                }
                None => Pick::These(needles(word)),
            },
        }
    }

    fn pick(&mut self) -> Pick {
        let mut pick = self.one_pick();
        while self.take("or") {
            pick = Pick::Or(Box::new((pick, self.one_pick())));
        }
        pick
    }

    /// `front L3, back`; what a bed without needles means is given.
    fn targets(&mut self, otherwise: &Pick) -> Targets {
        let mut targets = Targets::default();
        loop {
            let bed = self.next();
            let named = !self.over() && !matches!(self.peek(), "," | "from");
            let pick = if named { self.pick() } else { otherwise.clone() };
            for each in Bed::BOTH {
                let called = if each == Bed::Front { "front" } else { "back" };
                if bed == called || bed == "both" {
                    targets[each] = Some(pick.clone());
                }
            }
            if !self.take(",") {
                return targets;
            }
        }
    }

    /// What stands behind the commas of a transfer or a move: joining, what becomes of the emptied, the tool.
    fn manner(&mut self) -> (bool, Option<bool>, Option<Tool>) {
        let (mut joining, mut stay, mut tool) = (false, None, None);
        while self.take(",") {
            if self.take("joining") {
                joining = true;
            } else if self.take("emptied stay in work") {
                stay = Some(true);
            } else if self.take("emptied go out of work") {
                stay = Some(false);
            } else if self.take("by hand") {
                tool = Some(Tool::Hand);
            } else if self.take("by carriage") {
                tool = Some(Tool::Carriage);
            } else {
                panic!("{:?}", self.words);
            }
        }
        (joining, stay, tool)
    }

    /// What comes behind `row` or `rows N`.
    fn row(&mut self) -> Operation {
        let nothing = || BedWork::whole(Action::Slip);
        // To the left, then to the right.
        let mut ways = [[nothing(), nothing()], [nothing(), nothing()]];
        let mut size = Both::default();
        let (mut new_loops, mut now, mut claimed, mut bed) = (false, None, Vec::new(), "");
        loop {
            if self.take("to left") || self.take("to right") {
                let right = self.words[self.at - 1] == "right";
                claimed.push(right);
                now = Some(right);
            }
            if self.take("new loops") {
                new_loops = true;
            } else if self.take("loosened") {
                let by: i32 = self.number();
                size = Both::same(Some(RowSize::By(by * 100)));
            } else if !self.over() && self.peek() != "," {
                if matches!(self.peek(), "front" | "back" | "both") {
                    bed = self.next();
                }
                let action = match self.next() {
                    "knit" => Action::Knit,
                    "tuck" => Action::Tuck,
                    "slip" => Action::Slip,
                    word => panic!("an action, not `{word}` in {:?}", self.words),
                };
                let picked = self.take("on").then(|| self.pick());
                self.take("elsewhere");
                for (right, way) in ways.iter_mut().enumerate() {
                    for (of, work) in ["front", "back"].into_iter().zip(way) {
                        if (bed == of || bed == "both") && now.is_none_or(|now| usize::from(now) == right) {
                            match &picked {
                                Some(pick) => work.picked.push((action, pick.clone())),
                                None => work.elsewhere = action,
                            }
                        }
                    }
                }
            }
            if !self.take(",") {
                break;
            }
        }
        let toward = match claimed.as_slice() {
            [right] => Some(if *right { Side::Right } else { Side::Left }),
            _ => None,
        };
        let [left, right] = ways.map(|[front, back]| Both { front, back });
        let work = match (claimed.len(), toward) {
            (2, _) => Work::ByDirection { to_left: left, to_right: right },
            (_, Some(Side::Right)) => Work::Same(right),
            _ => Work::Same(left),
        };
        Operation::Row(Row { work, sizes: size, toward, new_loops })
    }

    fn promise(&mut self) -> Promised {
        match self.next() {
            "carriage" => Promised::OnTheLeft(self.next() == "left"),
            "counter" => Promised::Counter(self.number()),
            "gaiting" => Promised::Opposite(self.next() == "opposite"),
            "racking" if self.take("centre") => Promised::Racking(0),
            "racking" => Promised::Racking(self.way()),
            count => {
                let count = count.parse().expect("a count of stitches");
                self.take("stitches");
                let bed = self.next();
                Promised::Stitches { count, front: bed != "back", back: bed != "front" }
            }
        }
    }

    fn edge_change(&mut self) -> EdgeChange {
        let (bed, by) = (self.bed(), self.number());
        self.take("at");
        let (left, right) = match self.next() {
            "left" => (true, false),
            "right" => (false, true),
            _ => (true, true),
        };
        self.take("edge");
        let inset = self.take(", inset");
        EdgeChange { bed, by, left, right, inset: if inset { self.number() } else { 0 } }
    }
}

/// `L3` or `L3-R2`.
fn needles(word: &str) -> NeedleSet {
    let one = |word: &str| {
        let number: u8 = word[1..].parse().unwrap_or_else(|_| panic!("a needle, not `{word}`"));
        Needle(if word.starts_with('L') { 128 - number } else { 127 + number })
    };
    let (from, to) = word.split_once('-').unwrap_or((word, word));
    NeedleSet::span(one(from), one(to))
}

fn first_of(set: NeedleSet) -> i32 {
    set.first().map_or(0, |needle| i32::from(needle.0))
}

fn statement(text: &str) -> Deed {
    let mut words = Words::of(text);
    let (work, all) = (&Pick::InWork, &Pick::Loaded);
    let done = |operation| Deed::Do(operation);
    let deed = match words.next() {
        "row" => done(words.row()),
        "rows" => Deed::Rows(words.number(), words.row()),
        "tubular" => {
            let rows: u64 = words.number();
            words.take("rows");
            let side = |text| Words::of(text).row();
            let line = |operation| Line { number: 0, deed: Deed::Do(operation) };
            assert!(rows.is_multiple_of(2), "whole rounds");
            Deed::Repeat(rows / 2, vec![line(side("front knit")), line(side("back knit"))])
        }
        "free" => done(words.take("pass").then_some(Operation::FreePass).expect("a pass")),
        "carriage" => done(Operation::Carriage(if words.next() == "left" { Side::Left } else { Side::Right })),
        "gaiting" => {
            done(Operation::Gaiting(if words.next() == "between" { Gaiting::Between } else { Gaiting::Opposite }))
        }
        "rack" if words.take("to centre") => done(Operation::RackTo(0)),
        "rack" if words.take("to") => done(Operation::RackTo(words.way())),
        "rack" => done(Operation::RackBy(words.way())),
        "thread" => done(Operation::Thread(Yarn(u16::from(words.next() != "slate")))),
        "stitch" => {
            words.take("size");
            done(Operation::StitchSize(Both::same(Some(words.number::<i32>() * 100))))
        }
        "reset" => done(words.take("counter").then_some(Operation::ResetCounter).expect("the counter")),
        "in" => {
            words.take("work");
            done(Operation::InWork(words.targets(work)))
        }
        "out" => {
            words.take("of work");
            done(Operation::OutOfWork(words.targets(work)))
        }
        "hold" => done(Operation::Hold(words.targets(work))),
        "release" => done(Operation::Release(words.targets(work))),
        "cast" => {
            words.take("on");
            let how = match words.next() {
                "zigzag" => CastOn::Zigzag,
                "open" => CastOn::Open,
                "wound" => CastOn::Wound,
                _ => CastOn::Chain,
            };
            let everywhere = Targets { front: Some(Pick::InWork), back: Some(Pick::InWork) };
            done(Operation::CastOn(how, if words.over() { everywhere } else { words.targets(work) }))
        }
        "new" => {
            words.take("loops");
            done(Operation::NewLoops(words.targets(work)))
        }
        "drop" => done(Operation::Drop(words.targets(all))),
        "bind" => {
            words.take("off");
            done(Operation::BindOff(words.targets(all)))
        }
        "onto" => {
            words.take("waste yarn");
            done(Operation::OntoWaste(words.targets(all), Waste::PLAIN))
        }
        "pick" => {
            words.take("up");
            let targets = words.targets(work);
            done(Operation::PickUp { targets, from_waste: words.take("from waste yarn").then_some(Waste::PLAIN) })
        }
        "transfer" => {
            let from = words.bed();
            let pick = (words.peek() != "to").then(|| words.pick());
            words.take("to");
            words.bed();
            let (joining, emptied_stay, tool) = words.manner();
            done(Operation::Transfer { from, pick, joining, emptied_stay, tool })
        }
        "move" => {
            let from = words.bed();
            let set = needles(words.next());
            let (to, by) = if words.take("to") {
                let to = words.bed();
                (to, first_of(needles(words.next())) - first_of(set))
            } else {
                (from, words.way())
            };
            let (joining, emptied_stay, _) = words.manner();
            done(Operation::Move { from, pick: Pick::These(set), to, by, joining, emptied_stay })
        }
        "cross" => {
            let bed = words.bed();
            let over = needles(words.next());
            words.take("over");
            done(Operation::Cross { bed, over, under: needles(words.next()) })
        }
        "increase" => done(Operation::Increase(words.edge_change())),
        "decrease" => done(Operation::Decrease(words.edge_change())),
        "expect" => {
            let mut promises = vec![words.promise()];
            while words.take(",") {
                promises.push(words.promise());
            }
            Deed::Expect(promises)
        }
        word => panic!("`{word}` in `{text}`"),
    };
    assert!(words.over(), "`{text}` goes on with {:?}", &words.words[words.at..]);
    deed
}

/// The statements of a block, and the line of its closing brace.
fn block<'a>(lines: &mut impl Iterator<Item = (usize, &'a str)>) -> (Vec<Line>, usize) {
    let mut done = Vec::new();
    loop {
        let (number, text) = lines.next().expect("a closing brace");
        match text.split_whitespace().next() {
            Some("}") => return (done, number),
            Some("repeat") => {
                let times = Words { words: text.split_whitespace().collect(), at: 1 }.number();
                done.push(Line { number, deed: Deed::Repeat(times, block(lines).0) });
            }
            Some("allow") => {
                let rule = text.split_whitespace().nth(1).expect("a rule").to_owned();
                done.push(Line { number, deed: Deed::Allow(rule, block(lines).0) });
            }
            Some(_) => done.push(line(number, text)),
            None => {}
        }
    }
}

/// One statement without a block.
fn line(number: usize, text: &str) -> Line {
    let mut deed = statement(text);
    if let Deed::Repeat(_, body) = &mut deed {
        body.iter_mut().for_each(|line| line.number = number);
    }
    Line { number, deed }
}

fn profile<'a>(lines: &mut impl Iterator<Item = (usize, &'a str)>) -> Profile {
    let mut profile = Profile {
        each_side: 0,
        back_racks: true,
        half_to_right: true,
        racking: (5, 5),
        selectors: [true; 2],
        hold: [true; 2],
        stay: true,
        carriage_to: [false; 2],
        carriage_takes: Vec::new(),
        most_tucks: 4,
        says_most_tucks: false,
    };
    let which = |word: &str| [matches!(word, "front" | "both"), matches!(word, "back" | "both")];
    for (_, text) in lines {
        let mut words = Words::of(text);
        match words.next() {
            "}" => break,
            "needles" => profile.each_side = words.number(),
            "racking" => {
                profile.back_racks = words.next() == "back";
                words.take("bed ,");
                let left: i32 = words.number();
                words.take("left to");
                profile.racking = (left, words.number());
            }
            "half" => profile.half_to_right = words.take("step to the right"),
            "selectors" => profile.selectors = which(words.next()),
            "hold" => profile.hold = which(words.next()),
            "emptied" => profile.stay = words.take("needles stay"),
            "transfer" if words.take("carriage takes") => {
                let said = text.split_once("takes").map_or("", |(_, said)| said);
                profile.carriage_takes = said.split(',').map(|one| one.trim().to_owned()).collect();
            }
            "transfer" => {
                words.take("carriage to");
                let to = words.next();
                profile.carriage_to = if to == "carriage" { [true; 2] } else { which(to) };
            }
            "most" => {
                words.take("tucks");
                profile.most_tucks = words.number();
                profile.says_most_tucks = true;
            }
            "" => {}
            word => panic!("`{word}` of a machine"),
        }
    }
    profile
}

pub(crate) fn read(text: &str) -> Pattern {
    let mut lines = text.lines().enumerate().map(|(at, line)| (at + 1, line.trim()));
    let mut found = None;
    while let Some((_, line)) = lines.next() {
        if line.starts_with("machine") {
            found = Some(profile(&mut lines));
        } else if line.starts_with("piece") {
            let (statements, end) = block(&mut lines);
            return Pattern { profile: found.expect("a machine"), lines: statements, end };
        }
    }
    panic!("no piece:\n{text}");
}

/// The lines that name a needle the machine does not have.
pub(crate) fn beyond(text: &str, each_side: u8) -> Vec<usize> {
    let past = |word: &str| {
        let number = word.trim_end_matches(',').strip_prefix(['L', 'R']).and_then(|number| number.parse::<u8>().ok());
        number.is_some_and(|number| number > each_side)
    };
    let named = |line: &str| line.split([' ', '-']).any(past);
    text.lines().enumerate().filter(|(_, line)| named(line)).map(|(at, _)| at + 1).collect()
}

/// Statements by themselves, the first of them on that line.
pub(crate) fn statements(first: usize, text: &str) -> Vec<Line> {
    let closed = format!("{text}\n}}");
    block(&mut closed.lines().enumerate().map(|(at, line)| (at + first, line.trim()))).0
}
