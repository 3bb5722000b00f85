//! Reads a sheet as a knitter would, and compares it with a play that leaves nothing out.

use wale::beds::{Bed, Outcome, Side};
use wale::plan::program::Piece;
use wale::play::{Flow, Manner, Moment, Watcher, play};

#[derive(Default)]
pub(crate) struct EveryRow {
    /// For each number of rows done, what the counter showed and where the carriage stood until the next row.
    after: Vec<Vec<(u64, Side)>>,
}

impl Watcher for EveryRow {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let rows = usize::try_from(moment.state.row).expect("few rows");
        self.after.resize_with(rows + 1, Vec::new);
        let seen = (moment.state.counter, moment.state.carriage);
        if !self.after[rows].contains(&seen) {
            self.after[rows].push(seen);
        }
        Flow::Continue(())
    }
}

/// A text with its wrapped lines put together again.
pub(crate) fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The first number in a text.
pub(crate) fn number(text: &str) -> u64 {
    let digits: String =
        text.chars().skip_while(|letter| !letter.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    digits.parse().expect("a number")
}

/// The last number in a text.
pub(crate) fn last_number(text: &str) -> u64 {
    let text: String = text.chars().rev().collect();
    let digits: String =
        text.chars().skip_while(|letter| !letter.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    digits.chars().rev().collect::<String>().parse().expect("a number")
}

/// The last row of a heading, up to where it tells of the carriage.
pub(crate) fn row_of(heading: &str) -> u64 {
    let head = &heading[..heading.rfind("Carriage ").expect("the carriage")];
    let start = ["Row ", "Rows ", "up to row ", "more: row ", "more: rows "]
        .into_iter()
        .filter_map(|word| head.rfind(word).map(|at| at + word.len()))
        .max()
        .expect("a row");
    last_number(head[start..].split([',', '.']).next().expect("a sentence"))
}

/// Checks every row number, counter and side of a sheet against a play that leaves nothing out.
pub(crate) fn agrees(piece: &Piece, text: &str) {
    let mut every = EveryRow::default();
    let (end, _) = play(piece, Manner::EVERY, &mut every);
    let text = text.split_once("The work\n").expect("the work").1;
    let (text, ending) = text.split_once("The end of the piece").expect("the end");
    let closing = format!("Carriage on the {}, counter {}.", end.carriage, end.counter);
    assert!(ending.contains(&closing), "{closing}\n{ending}");
    let mut last = 0;
    let mut counters = 0;
    for paragraph in text.split("\n\n").map(joined) {
        let mut places: Vec<usize> = [", counter ", "; counter "]
            .iter()
            .flat_map(|said| paragraph.match_indices(said))
            .map(|(at, _)| at)
            .collect();
        places.sort_unstable();
        for at in places {
            let (sentence, rest) = paragraph.split_at(at);
            if rest.starts_with(',') {
                last = row_of(sentence);
            }
            // A line of counts belongs to the row written last.
            let side = if sentence.ends_with("left") { Side::Left } else { Side::Right };
            let seen = &every.after[usize::try_from(last).expect("few rows")];
            let told = (number(rest), side);
            assert!(seen.contains(&told), "row {last}: {told:?}, not {seen:?}: {sentence}\n{text}");
            counters += 1;
        }
    }
    assert_eq!(last, end.row, "the last row of the sheet\n{text}");
    assert!(counters > 0 || end.row == 0, "no counters\n{text}");
}

/// Reads the rows of a sheet as a knitter would, going back where it says so. Gives the work of every row, in order.
pub(crate) fn followed(work: &str) -> Vec<String> {
    let mut done: Vec<String> = Vec::new();
    let mut begun: Vec<usize> = Vec::new();
    let between = |text: &str, before: &str, after: &str| -> String {
        let rest = text.split_once(before).expect("the words before").1;
        rest.split_once(after).expect("the words after").0.replace(',', "")
    };
    let times = |text: &str| match text {
        "once" => 1,
        "twice" => 2,
        many => usize::try_from(number(many)).expect("few"),
    };
    for paragraph in work.split("\n\n") {
        let text = joined(paragraph);
        if text.starts_with("Repeat begins") {
            begun.push(done.len());
        } else if text.starts_with("Repeat ends. Go back") {
            let start = begun.pop().expect("a repeat");
            let rows = done[start..].to_vec();
            let back = text.replacen("what is done before ", "", 1);
            assert_eq!(between(&back, "Go back to row ", "."), (start + 1).to_string());
            let (of, often) = text.split_once(" times in all").map_or_else(
                || (between(&text, "Work ", " twice in all").replacen("that and ", "", 1), 2),
                |(head, _)| {
                    let of = between(&text, "Work ", " times in all").replacen("that and ", "", 1);
                    (of, times(head.rsplit(' ').next().expect("a number")))
                },
            );
            assert!(of.starts_with("this row") || number(&of) == rows.len() as u64, "{text}");
            (1..often).for_each(|_| done.extend(rows.iter().cloned()));
            assert_eq!(number(&between(&text, "up to ", ". ")), done.len() as u64, "{text}");
        } else if text.starts_with("Repeat ends: do this") {
            begun.pop().expect("a repeat");
        } else if text.starts_with("Work row") {
            let from = between(&text, "Work ", " again");
            let rows = done
                [usize::try_from(number(&from)).expect("few") - 1..usize::try_from(last_number(&from)).expect("few")]
                .to_vec();
            let often = times(&between(&text, " again, ", " more"));
            (0..often).for_each(|_| done.extend(rows.iter().cloned()));
            assert_eq!(last_number(&between(&text, "more: ", ". ")), done.len() as u64, "{text}");
        } else if text.starts_with("Row") {
            let heading = text
                .split_once('.')
                .expect("a heading")
                .0
                .split_once(',')
                .map_or_else(|| text.split_once('.').expect("a heading").0.to_owned(), |(rows, _)| rows.to_owned());
            assert_eq!(number(&heading), done.len() as u64 + 1, "{text}");
            let said: Vec<&str> = if text.contains("Front only and back only in turn") {
                vec!["Front: knit. Back: slip.", "Front: slip. Back: knit."]
            } else if text.contains("Back only and front only in turn") {
                vec!["Front: slip. Back: knit.", "Front: knit. Back: slip."]
            } else {
                let starts = ["Front: ", "Back: ", "No needle", "The yarn goes"];
                let lines = paragraph.lines().map(str::trim);
                lines.filter(|line| starts.iter().any(|start| line.starts_with(start))).collect()
            };
            let rows = usize::try_from(last_number(&heading)).expect("few") - done.len();
            done.extend((0..rows).map(|row| said[row % said.len()].to_owned()));
        }
    }
    assert!(begun.is_empty(), "every repeat ends");
    done
}

/// Everything that a knitter does who follows a sheet to the letter: rows, by `a row`, and what is done between them, by its
/// words. Going back to a row is going back to no line before it.
pub(crate) fn to_the_letter(work: &str) -> Vec<String> {
    let row = || "a row".to_owned();
    let mut done: Vec<String> = Vec::new();
    let mut begun: Vec<usize> = Vec::new();
    for paragraph in work.split("\n\n") {
        let text = joined(paragraph);
        let first = joined(paragraph.lines().next().unwrap_or_default());
        if text.starts_with("Repeat begins") {
            begun.push(done.len());
        } else if text.starts_with("Repeat ends. Go back to ") {
            let start = begun.pop().expect("a repeat");
            let from = if text.starts_with("Repeat ends. Go back to what is done before row") {
                start
            } else {
                start + done[start..].iter().position(|what| *what == row()).expect("a row")
            };
            let again = done[from..].to_vec();
            let times = text.split_once(" times in all").expect("more than twice").0.rsplit(' ').next();
            (1..number(times.expect("a number"))).for_each(|_| done.extend(again.iter().cloned()));
        } else if first.starts_with("Row") {
            let heading = text.split_once('.').expect("a heading").0.split(", ").next().expect("the rows").to_owned();
            let rows = last_number(&heading) - number(&heading) + 1;
            done.extend((0..rows).map(|_| row()));
        } else if first.starts_with("After row") || first.starts_with("Before row") {
            // The lines of one sentence are further in than the first of them.
            let lines = paragraph.lines().skip(1).map(str::trim_end);
            let depth = |line: &str| line.len() - line.trim_start().len();
            let least = lines.clone().map(depth).min().unwrap_or_default();
            for line in lines {
                match done.last_mut() {
                    Some(last) if depth(line) > least => last.push_str(line.trim_start()),
                    _ => done.push(line.trim_start().to_owned()),
                }
            }
        }
    }
    done
}

/// What the beds did in each row of a play that leaves nothing out, in the words of the sheet.
#[derive(Default)]
pub(crate) struct Deeds(pub(crate) Vec<String>);

impl Watcher for Deeds {
    fn did(&mut self, moment: &Moment<'_>) -> Flow {
        let mut said = Vec::new();
        match moment.outcome {
            Outcome::Row(done) => {
                for (bed, name) in [(Bed::Front, "Front"), (Bed::Back, "Back")] {
                    let sets = [(done.knit[bed], "knit"), (done.tuck[bed], "tuck"), (done.slip[bed], "slip")];
                    said.extend(
                        sets.iter().filter(|(set, _)| !set.is_empty()).map(|(_, what)| format!("{name}: {what}.")),
                    );
                }
                self.0.push(if said.is_empty() { "No needle is in work.".to_owned() } else { said.join(" ") });
            }
            Outcome::Handled(handled) if handled.by_carriage => self.0.push("The yarn goes".to_owned()),
            _ => {}
        }
        Flow::Continue(())
    }
}

/// The rows after which a sheet reminds of that, in order.
pub(crate) fn reminded(work: &str, of: &str) -> Vec<u64> {
    let text = joined(work);
    let mut rows = Vec::new();
    for said in text.split("Remember after row").skip(1) {
        let Some((when, what)) = said.split_once(": ") else { continue };
        if !what.starts_with(of) {
            continue;
        }
        let (named, on) = when.split_once(" and every ").map_or((when, None), |(named, on)| (named, Some(on)));
        let named = named.trim_start_matches('s').replace(" and ", ", ");
        rows.extend(named.split(',').map(number));
        if let Some(on) = on {
            let every = if on.starts_with("row ") { 1 } else { number(on) };
            let from = rows.last().expect("a row") + every;
            rows.extend((from..=last_number(on)).step_by(usize::try_from(every).expect("few")));
        }
    }
    rows
}
