//! The state after a row in words.

use super::{Next, Place, loops, picture};
use crate::beds::{Bed, Both, NeedleSet, State};
use crate::clean;
use crate::plan::program::Program;
use crate::source::Span;
use crate::tell::Screen;
use crate::tell::wrap::wrapped_to;
use crate::words::{self, count, list, racking};

/// Columns for the name of a setting, and for what a line of the pattern is.
const SETTING: usize = 20;
const LINE: usize = 15;

/// Everything there is to say of a row, ending in a newline.
pub(super) fn text(place: &Place<'_>, screen: Screen) -> String {
    let wrapped = |text: &str, first, indent| wrapped_to(screen.width(), text, first, indent);
    let mut text = wrapped(&heading(place), 0, 4);
    text.push_str("\n\n");
    for (name, value) in settings(place.program, place.state) {
        text.push_str(&format!("  {name:<18}{}\n", wrapped(&value, SETTING, SETTING)));
    }
    let block = |text: &mut String, title: &str, lines: &[String], indent| {
        if !lines.is_empty() {
            text.push_str(&format!("\n{title}\n"));
            lines.iter().for_each(|line| text.push_str(&format!("  {}\n", wrapped(line, 2, indent))));
        }
    };
    block(&mut text, "Loops that wait", &loops::waiting(place.state), 4);
    let parts = picture::parts(&place.piece.machine, place.state, screen.width());
    if !parts.is_empty() {
        text.push_str("\nThe beds\n");
        for part in &parts {
            let indented: String = part.lines().map(|line| format!("  {line}").trim_end().to_owned() + "\n").collect();
            text.push_str(&indented);
            text.push('\n');
        }
        text.push_str(&format!("  {}\n", wrapped(&picture::marks(&parts), 2, 2)));
    }
    block(&mut text, "In the pattern", &in_the_pattern(place), LINE);
    let steps: Vec<String> =
        way_back(place).iter().enumerate().map(|(index, step)| format!("{}. {step}", index + 1)).collect();
    let title = if place.state.row == 0 { "How to set the machine so" } else { "How to get back to it" };
    block(&mut text, title, &steps, 5);
    text
}

fn heading(place: &Place<'_>) -> String {
    let size = place.program.size.as_deref().map_or(String::new(), |size| format!(", size {}", clean::line(size)));
    let sections: String = place.reached.sections.iter().map(|title| format!(", {}", clean::line(title))).collect();
    let when = match place.state.row {
        0 => "before row 1".to_owned(),
        row => format!("after row {row}"),
    };
    format!("{}{size}{sections}: {when}", clean::line(&place.piece.title))
}

/// The settings of the machine and what each bed carries, each with its name.
pub(super) fn settings(program: &Program, state: &State) -> Vec<(&'static str, String)> {
    let mut settings = vec![
        ("row of the piece", state.row.to_string()),
        ("row counter", format!("shows {}", state.counter)),
        ("carriage", format!("at the {}", state.carriage)),
        ("yarn", yarn(program, state).unwrap_or_else(|| "none in the feeder".to_owned())),
        ("stitch size", each_bed(|bed| size(state.sizes[bed]))),
        ("gaiting", state.gaiting.to_string()),
        ("racking", racking(state.racking)),
    ];
    let names = Both { front: "front bed", back: "back bed" };
    for bed in Bed::BOTH {
        settings.push((names[bed], bed_in_words(state, bed)));
    }
    settings
}

/// The yarn in the feeder with what is known of it: `slate, 2/15 Nm, dark grey`.
fn yarn(program: &Program, state: &State) -> Option<String> {
    let yarn = program.yarns.get(usize::from(state.yarn?.0))?;
    let about = [Some(&yarn.name), yarn.count.as_ref(), yarn.colour.as_ref(), yarn.fibre.as_ref()];
    let about: Vec<_> = about.into_iter().flatten().map(|word| clean::line(word)).collect();
    Some(about.join(", "))
}

/// `60 stitches; in work L30-R30, held L32-L31`.
fn bed_in_words(state: &State, bed: Bed) -> String {
    let mut text = count(state.stitch_count(bed), "stitch", "stitches");
    let positions = [("in work", state.in_work[bed]), ("held", state.held[bed])];
    let positions: Vec<String> = positions
        .into_iter()
        .filter(|(_, set)| !set.is_empty())
        .map(|(position, set)| format!("{} {position}: {set}", count(u64::from(set.len()), "needle", "needles")))
        .collect();
    text.push_str("; ");
    text.push_str(&if positions.is_empty() { "no needle in work".to_owned() } else { positions.join("; ") });
    text
}

fn in_the_pattern(place: &Place<'_>) -> Vec<String> {
    let mut lines: Vec<String> = if place.state.row == 0 {
        place.set_up.iter().map(|span| format!("before it    {}", statement(place, *span))).collect()
    } else {
        let made = format!("this row     {}", statement(place, place.reached.made));
        let passes = place.reached.passes.iter().map(|pass| format!("             {pass}"));
        std::iter::once(made).chain(passes).collect()
    };
    let Some(Next { between, row }) = &place.next else { return lines };
    lines.extend(between.iter().map(|span| format!("after it     {}", statement(place, *span))));
    lines.push(match row {
        Some(span) => format!("next row     {}", statement(place, *span)),
        None => "next row     none: this is the last row of the piece".to_owned(),
    });
    lines
}

/// The line of a statement and its words: `line 22: row front knit, back tuck`. What it opens is left out.
fn statement(place: &Place<'_>, span: Span) -> String {
    let line = place.sources.position(span).line;
    let words = place.sources.words(span).lines().next().unwrap_or_default();
    let file = if span.file == place.piece.span.file {
        String::new()
    } else {
        format!("{}, ", clean::line(place.sources.get(span.file).name()))
    };
    format!("{file}line {line}: {}", clean::line(words.trim_end()))
}

/// What to set and hang, in the order in which it is done at the machine.
fn way_back(place: &Place<'_>) -> Vec<String> {
    let state = place.state;
    let mut steps = vec![
        "Keep hands clear of the hooks and of the way of the carriage. How needles and carriage are moved safely \
         stands in the machine's own manual."
            .to_owned(),
        format!("Set the gaiting to {} and rack to {}.", state.gaiting, racking(state.racking)),
    ];
    let mut positions = Vec::new();
    for (sets, position) in [(&state.in_work, "into work"), (&state.held, "to hold")] {
        let named = words::spans::all(sets);
        if !named.is_empty() {
            positions.push(format!("{named} {position}"));
        }
    }
    steps.push(if positions.is_empty() {
        "Put every needle out of work.".to_owned()
    } else {
        format!("Put {}, and all other needles out of work.", list(&positions))
    });
    steps.extend(hanging(state));
    steps.push(match yarn(place.program, state) {
        Some(yarn) => format!("Thread {yarn}."),
        None => "Leave the feeder empty.".to_owned(),
    });
    if Bed::BOTH.iter().any(|&bed| state.sizes[bed].is_some()) {
        steps.push(format!("Set the stitch size: {}.", each_bed(|bed| size(state.sizes[bed]))));
    }
    steps.push(format!("Stand the carriage at the {} and set the row counter to {}.", state.carriage, state.counter));
    steps.extend(place.next.as_ref().map(|next| match (next.between.first(), next.row) {
        (Some(first), _) => format!("Go on with {}.", statement(place, *first)),
        (None, Some(row)) => format!("Go on with {}.", statement(place, row)),
        (None, None) => "Nothing is left to do: the piece ends here.".to_owned(),
    }));
    steps
}

/// How the loops get on their needles.
fn hanging(state: &State) -> Vec<String> {
    let loaded = Both::from_fn(|bed| state.loops.loaded(bed));
    let empty: Both<NeedleSet> = Both::from_fn(|bed| state.in_work[bed] - loaded[bed]);
    if words::spans::all(&loaded).is_empty() {
        return vec!["No needle carries anything.".to_owned()];
    }
    let mut step = format!("See that {} carry the fabric", words::spans::all(&loaded));
    if !words::spans::all(&empty).is_empty() {
        step.push_str(&format!(" and that {} are empty", words::spans::all(&empty)));
    }
    let loops: u64 = state.loops.count();
    let stitches: u64 = Bed::BOTH.iter().map(|&bed| state.stitch_count(bed)).sum();
    step.push_str(&format!(
        ": {} and {} in all.",
        count(stitches, "needle with a stitch", "needles with a stitch"),
        count(loops, "loop", "loops")
    ));
    let mut steps = vec![step];
    if !loops::waiting(state).is_empty() {
        steps.push("Lay the loops named under \"Loops that wait\" on their needles, the oldest first.".to_owned());
    }
    steps
}

/// Something of each bed: once where both are the same.
fn each_bed(of: impl Fn(Bed) -> String) -> String {
    let (front, back) = (of(Bed::Front), of(Bed::Back));
    if front == back {
        format!("{front} on both beds")
    } else {
        format!("{front} on the front bed, {back} on the back bed")
    }
}

/// A stitch size that may not have been set.
fn size(hundredths: Option<i32>) -> String {
    hundredths.map_or_else(|| "not set".to_owned(), words::size)
}
