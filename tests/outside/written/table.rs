//! A structure as it is printed, course by course, and what is said of it in words.

use crate::outside::fabric::Fabric;
use crate::outside::hand::{Hand, Said, needle, stands_either_way, trace};

/// What one needle of a width repeat after the other does in a course, front and back: `K` knit, `T` tuck, `-` miss, `.` out
/// of work.
pub(crate) type Cells = [&'static str; 2];

/// What a source says of the fabric, and how that is seen.
pub(crate) type Words = (&'static str, fn(&Fabric) -> bool);

/// A structure.
pub(crate) struct Structure<'a> {
    pub(crate) source: &'a str,
    /// The lines before the marked part.
    pub(crate) set_out: &'a str,
    /// How it is written in the language, row by row.
    pub(crate) rows: &'a str,
    /// How often it is worked.
    pub(crate) times: usize,
    /// The printed courses.
    pub(crate) courses: &'a [Cells],
    /// How many courses a repeat has.
    pub(crate) height: usize,
    /// The needle of both beds at which the width repeat begins, and the last one of each bed.
    pub(crate) width: (&'a str, [&'a str; 2]),
    /// What is said of it in words.
    pub(crate) words: &'a [Words],
    /// Other structures that are easily taken for it.
    pub(crate) wrong: &'a [&'a [Cells]],
}

const END: &str = "mark \"end\"\nonto waste yarn both";

impl Structure<'_> {
    /// It is what is printed and what is said, whichever side is which. No slip of one needle's part in one course goes
    /// unnoticed, not even where the table has the same slip as the pattern.
    pub(crate) fn proved(&self, slips: &[(&str, &str)]) {
        stands_either_way(|hand| self.check(hand), slips);
        let mut tried = 0;
        for courses in self.slips_in_both() {
            let rows = written(&courses);
            let cells: Vec<[&str; 2]> = courses.iter().map(|[front, back]| [front.as_str(), back.as_str()]).collect();
            let said = self.check_as(&Hand::plain(), &rows, &cells);
            assert!(said.is_err(), "{}: {courses:?} in the table and in the pattern is not noticed", self.source);
            println!("{courses:?} in table and pattern: {}", said.unwrap_err().lines().next().unwrap_or_default());
            tried += 1;
        }
        assert!(tried >= self.courses.len() * 2, "{}: only {tried} slips", self.source);
    }

    fn check(&self, hand: &Hand<'_>) -> Said {
        self.check_as(hand, self.rows, self.courses)
    }

    fn check_as(&self, hand: &Hand<'_>, rows: &str, courses: &[[&str; 2]]) -> Said {
        let definition = format!("stitch structure on both {{\n{}\n}}", rows.trim());
        let statements = format!("{}\nmark \"begin\"\nwork structure {} times\n{END}", self.set_out.trim(), self.times);
        let fabric = Fabric::read(&trace(&hand.with(&definition, &statements))?, hand.is_mirrored())?;
        self.is_printed(&fabric, courses)?;
        agree!(fabric.period(), self.height, "{}: courses of a repeat", self.source);
        for (words, holds) in self.words {
            must!(holds(&fabric), "{}: not so: {words}", self.source);
        }
        Ok(())
    }

    /// Needle by needle and course by course.
    fn is_printed(&self, fabric: &Fabric, courses: &[[&str; 2]]) -> Said {
        let (source, rows) = (self.source, fabric.marked().len());
        agree!(rows, courses.len() * self.times, "{source}: rows");
        must!(self.times >= 2, "{source}: at least two repeats, to see that they close");
        let (first, last) = self.width;
        for bed in 0..2 {
            let number = |name: &str| i64::from(needle(name).0) - 128;
            for at in number(first)..=number(last[bed]) {
                for row in 0..rows {
                    let printed = courses[row % courses.len()][bed];
                    let expected = printed.chars().cycle().nth((at - number(first)) as usize).unwrap();
                    agree!(fabric.did(row, bed, at), expected, "{source}: course {}, bed {bed}, needle {at}", row + 1);
                }
            }
            let span = number(first)..=number(last[bed]);
            must!(fabric.working(bed).iter().all(|at| span.contains(at)), "{source}: another needle works");
            let on = |beds: &[std::collections::BTreeMap<i64, Vec<usize>>; 2]| beds[bed].len();
            agree!(on(&fabric.at_end), on(&fabric.at_begin), "{source}: stitches of bed {bed} at the end");
        }
        Ok(())
    }

    /// Every one of the courses with another action in one place, with a course left out, and the other structures.
    fn slips_in_both(&self) -> Vec<Vec<[String; 2]>> {
        let owned =
            |courses: &[Cells]| -> Vec<[String; 2]> { courses.iter().map(|it| it.map(str::to_owned)).collect() };
        let mut all: Vec<Vec<[String; 2]>> = self.wrong.iter().map(|courses| owned(courses)).collect();
        for row in 0..self.courses.len() {
            for bed in 0..2 {
                for at in 0..self.courses[row][bed].len() {
                    for action in ["K", "T", "-"] {
                        let is = &self.courses[row][bed][at..=at];
                        if is == action || is == "." {
                            continue;
                        }
                        let mut courses = owned(self.courses);
                        courses[row][bed].replace_range(at..=at, action);
                        // A row in which no needle takes the yarn is none.
                        if courses[row].iter().any(|cell| cell.contains(['K', 'T'])) {
                            all.push(courses);
                        }
                    }
                }
            }
            if self.courses.len() > 1 {
                let mut courses = owned(self.courses);
                courses.remove(row);
                all.push(courses);
            }
        }
        all
    }
}

/// Courses as rows of the language.
fn written(courses: &[[String; 2]]) -> String {
    let part = |bed: &str, cell: &str| {
        let cell: String = cell.chars().filter(|mark| *mark != '.').collect();
        let whole = |mark: char| cell.chars().all(|it| it == mark);
        let picture = |mark: char| {
            let marks: String = cell.chars().map(|it| if it == mark { '|' } else { '.' }).collect();
            format!("\"{marks}\"")
        };
        if whole('-') {
            return String::new();
        }
        if whole('K') {
            return format!("{bed} knit");
        }
        if whole('T') {
            return format!("{bed} tuck");
        }
        let mut parts = Vec::new();
        for (mark, action) in [('K', "knit"), ('T', "tuck")] {
            if cell.contains(mark) {
                parts.push(format!("{action} on {}", picture(mark)));
            }
        }
        format!("{bed} {}, slip elsewhere", parts.join(", "))
    };
    let row = |[front, back]: &[String; 2]| {
        let parts: Vec<String> =
            [part("front", front), part("back", back)].into_iter().filter(|part| !part.is_empty()).collect();
        format!("row {}", parts.join(", "))
    };
    courses.iter().map(row).collect::<Vec<_>>().join("\n")
}
