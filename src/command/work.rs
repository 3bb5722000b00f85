//! What the commands that write something from a pattern have in common: read it, tell what is to be mended, choose the
//! size and the piece, write.

use super::library::Folder;
use super::streams::{Output, Streams};
use super::{Outcome, PartArguments, read};
use std::io;
use std::path::Path;
use wale::Checked;
use wale::clean;
use wale::finding::Finding;
use wale::plan::program::Program;
use wale::tell::summary::Count;
use wale::tell::terminal;

/// What a writer is given: the programs of the chosen sizes, one at least, and the title of the chosen piece if there is
/// one.
#[derive(Debug, Clone)]
pub(crate) struct Chosen<'c> {
    /// The programs, in the order of the sizes.
    pub(crate) programs: Vec<&'c Program>,
    /// The piece; all pieces where there is none.
    pub(crate) piece: Option<&'c str>,
}

/// Reads and checks the pattern at `path`; `-` is standard input.
///
/// # Errors
/// A sentence for the knitter.
pub(crate) fn checked(path: &Path, streams: &mut Streams<'_>) -> Result<Checked, String> {
    if path.as_os_str() == read::DASH {
        let text = read::text(streams.input, read::STANDARD_INPUT)?;
        return begun(wale::check(read::STANDARD_INPUT, &text, &Folder::current()), read::STANDARD_INPUT);
    }
    checked_beside(path, &Folder::of(path), streams)
}

/// Reads and checks the pattern file at `path`, with `folder` for what it uses.
///
/// # Errors
/// A sentence for the knitter.
pub(crate) fn checked_beside(path: &Path, folder: &Folder, streams: &mut Streams<'_>) -> Result<Checked, String> {
    let text = read::file(path)?;
    let name = path.to_string_lossy();
    streams.progress.say(format!("checking {}", clean::line(&name)));
    begun(wale::check(&name, &text, folder), &name)
}

/// The same, if there is anything in the pattern: with nothing to mend in it, an empty file would pass for a good one.
///
/// # Errors
/// A sentence for the knitter that says how a pattern begins.
pub(crate) fn begun(checked: Checked, name: &str) -> Result<Checked, String> {
    if !checked.says_nothing() {
        return Ok(checked);
    }
    let is_empty = checked.sources.iter().next().is_none_or(|file| file.text().trim().is_empty());
    let holds = if is_empty { "it is empty" } else { "it holds comments only" };
    let name = if name == read::STANDARD_INPUT { name.to_owned() } else { format!("`{}`", clean::line(name)) };
    Err(format!(
        "there is no pattern in {name} yet: {holds}. A pattern begins with its title, `pattern \"Scarf\"`, and with what your \
         machine has, `machine club {{ needles 88 each side }}`; then come the yarn and the pieces."
    ))
}

/// Writes what `write` makes of a checked pattern. The findings go to the report; with an error among them nothing is
/// written, because nobody should knit from it.
///
/// # Errors
/// Those of the streams.
pub(crate) fn write(
    checked: &Checked,
    part: &PartArguments,
    streams: &mut Streams<'_>,
    write: impl FnOnce(&Chosen<'_>) -> Result<String, String>,
) -> io::Result<Outcome> {
    stream(checked, part, streams, |chosen, output, _| match write(chosen) {
        Ok(text) => output.write_all(text.as_bytes()).map(Ok),
        Err(said) => Ok(Err(said)),
    })
}

/// Like [`write()`], for what is too long to be kept as a text: `write` is handed the output, and the report.
///
/// # Errors
/// Those of the streams.
pub(crate) fn stream(
    checked: &Checked,
    part: &PartArguments,
    streams: &mut Streams<'_>,
    write: impl FnOnce(&Chosen<'_>, &mut dyn Output, &mut dyn io::Write) -> io::Result<Result<(), String>>,
) -> io::Result<Outcome> {
    let meant = named(&checked.programs, part);
    // Without a size that the pattern has, what holds for one of them only is not asked for.
    let size = meant.as_ref().map_or(part.size.as_deref(), |meant| meant.size.as_deref());
    let findings = of_size(&checked.findings, size);
    terminal::write(&mut streams.report, &checked.sources, &findings, streams.report_screen)?;
    let count = Count::of(&findings);
    if count.errors > 0 {
        writeln!(streams.report, "wale: nothing is written while there are errors. Mend them first.")?;
        return Ok(Outcome::Findings);
    }
    streams.progress.say("writing");
    let written = match &meant {
        Ok(part) => write(&chosen(&checked.programs, part), streams.output, streams.report)?,
        Err(said) => Err(said.clone()),
    };
    if let Err(said) = written {
        return refuse(&said, streams);
    }
    Ok(if count.is_clean() { Outcome::Clean } else { Outcome::Findings })
}

/// Says why something was not done.
///
/// # Errors
/// Those of the streams.
pub(crate) fn refuse(said: &str, streams: &mut Streams<'_>) -> io::Result<Outcome> {
    writeln!(streams.report, "wale: {said}")?;
    Ok(Outcome::WrongUse)
}

/// The findings that hold for a size; all of them where none is asked for.
pub(crate) fn of_size(findings: &[Finding], size: Option<&str>) -> Vec<Finding> {
    let holds = |finding: &&Finding| {
        size.is_none_or(|size| finding.sizes.is_empty() || finding.sizes.iter().any(|known| known == size))
    };
    findings.iter().filter(holds).cloned().collect()
}

/// The name that is meant by `asked`: the one that is written so, or else the only one that differs in nothing but small
/// and capital letters.
///
/// # Errors
/// The names between which it cannot be decided; none where nothing fits.
pub(crate) fn meant<'k>(asked: &str, known: &[&'k str]) -> Result<&'k str, Vec<&'k str>> {
    if let Some(same) = known.iter().find(|name| **name == asked) {
        return Ok(same);
    }
    let mut fitting: Vec<&str> =
        known.iter().copied().filter(|name| name.to_lowercase() == asked.to_lowercase()).collect();
    fitting.dedup();
    match fitting.as_slice() {
        [only] => Ok(only),
        _ => Err(fitting),
    }
}

/// The size that is asked for, as the pattern names it. A pattern that could not be understood far enough to know its sizes
/// has no programs and takes any.
///
/// # Errors
/// A sentence for the knitter that names the sizes there are.
pub(crate) fn known_size(programs: &[Program], size: &str) -> Result<String, String> {
    if programs.is_empty() {
        return Ok(size.to_owned());
    }
    let known: Vec<&str> = programs.iter().filter_map(|program| program.size.as_deref()).collect();
    let asked = clean::line(size);
    meant(size, &known).map(str::to_owned).map_err(|fitting| match (known.as_slice(), fitting.as_slice()) {
        ([], _) => format!("the pattern has no sizes, so there is no size `{asked}`. Leave out --size."),
        (known, []) => {
            format!("the pattern has no size `{asked}`. Its sizes are {}.", clean::line(&known.join(", ")))
        }
        (_, fitting) => format!(
            "`{asked}` may be each of the sizes {}. Write it with the capitals of the one you mean.",
            clean::line(&fitting.join(", "))
        ),
    })
}

/// The piece that is asked for, by one of these titles; `whose` begins the sentence that there is none.
///
/// # Errors
/// A sentence for the knitter that names the pieces there are.
pub(crate) fn known_piece(titles: &[&str], piece: &str, whose: (&str, &str)) -> Result<String, String> {
    let asked = clean::line(piece);
    meant(piece, titles).map(str::to_owned).map_err(|fitting| {
        if fitting.is_empty() {
            let titles = titles.join("\", \"");
            format!("{} has no piece \"{asked}\". {} pieces are \"{}\".", whose.0, whose.1, clean::line(&titles))
        } else {
            format!(
                "\"{asked}\" may be each of the pieces \"{}\". Write it with the capitals of the one you mean.",
                clean::line(&fitting.join("\", \""))
            )
        }
    })
}

/// The titles of the pieces of some programs, each once, in their order.
pub(crate) fn titles<'c>(programs: impl IntoIterator<Item = &'c Program>) -> Vec<&'c str> {
    let mut titles: Vec<&str> = Vec::new();
    for piece in programs.into_iter().flat_map(|program| &program.pieces) {
        if !titles.contains(&piece.title.as_str()) {
            titles.push(&piece.title);
        }
    }
    titles
}

/// What the arguments name, as the pattern writes it.
///
/// # Errors
/// A sentence for the knitter, where the pattern has no such size or piece, or no piece at all.
fn named(programs: &[Program], part: &PartArguments) -> Result<PartArguments, String> {
    let size = part.size.as_deref().map(|size| known_size(programs, size)).transpose()?;
    let titles = titles(programs.iter().filter(|program| size.is_none() || program.size == size));
    if titles.is_empty() {
        return Err(
            "the pattern has no piece, so there is nothing to write. Add one: piece \"Scarf\" { .. }.".to_owned()
        );
    }
    let known = |piece| known_piece(&titles, piece, ("the pattern", "Its"));
    Ok(PartArguments { piece: part.piece.as_deref().map(known).transpose()?, size })
}

/// The programs and the piece that the arguments name, as the pattern writes them.
fn chosen<'c>(programs: &'c [Program], part: &'c PartArguments) -> Chosen<'c> {
    let fits = |program: &&Program| part.size.is_none() || program.size == part.size;
    Chosen { piece: part.piece.as_deref(), programs: programs.iter().filter(fits).collect() }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::command::streams::tried;
    use std::sync::Arc;
    use wale::beds::Machine;
    use wale::catalogue::Severity;
    use wale::plan::program::Piece;
    use wale::source::{Sources, Span};

    fn checked(severity: Option<Severity>) -> Checked {
        let piece = |title: &str| Piece {
            title: title.to_owned(),
            make: 1,
            machine: Arc::new(Machine::new("club", 90)),
            span: Span::default(),
            end: Span::default(),
            steps: Arc::new([]),
            waste: Vec::new(),
        };
        let program = |size: &str| Program {
            title: None,
            size: Some(size.to_owned()),
            yarns: Vec::new(),
            pieces: vec![piece("Back"), piece("Sleeve")],
        };
        let mut sources = Sources::default();
        sources.add("jersey.wale", "piece \"Back\" {\n}\n");
        let mut findings: Vec<Finding> = severity
            .map(|severity| match severity {
                Severity::Error => "off-bed",
                Severity::Warning => "edge-tuck",
            })
            .and_then(wale::rules::find)
            .map(|rule| rule.finds(Span::default(), "too wide"))
            .into_iter()
            .collect();
        findings.iter_mut().for_each(|finding| finding.sizes = vec!["long".to_owned()]);
        Checked { sources, trees: Vec::new(), programs: vec![program("short"), program("long")], findings }
    }

    /// A pattern without findings in the sizes `short` and `long`, each of the pieces `Back` and `Sleeve`.
    pub(crate) fn two_sizes() -> Checked {
        checked(None)
    }

    /// What comes of writing: the outcome, the output and the report.
    fn written(checked: &Checked, size: Option<&str>, piece: Option<&str>) -> (Outcome, String, String) {
        let part = PartArguments { size: size.map(str::to_owned), piece: piece.map(str::to_owned) };
        tried("", |streams| {
            write(checked, &part, streams, |chosen| {
                let sizes: Vec<&str> = chosen.programs.iter().filter_map(|program| program.size.as_deref()).collect();
                Ok(format!("{} {}", sizes.join("+"), chosen.piece.unwrap_or("all")))
            })
        })
    }

    #[test]
    fn sizes_and_pieces_are_chosen_by_name() {
        let checked = checked(None);
        assert_eq!(written(&checked, None, None), (Outcome::Clean, "short+long all".into(), String::new()));
        assert_eq!(written(&checked, Some("long"), Some("Back")).1, "long Back");
        let (outcome, output, report) = written(&checked, Some("wide"), None);
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert_eq!(report, "wale: the pattern has no size `wide`. Its sizes are short, long.\n");
        let (outcome, _, report) = written(&checked, None, Some("Hood"));
        assert_eq!(outcome, Outcome::WrongUse);
        assert_eq!(report, "wale: the pattern has no piece \"Hood\". Its pieces are \"Back\", \"Sleeve\".\n");
    }

    #[test]
    fn an_error_keeps_the_sheet_back_and_a_warning_does_not() {
        let (outcome, output, report) = written(&checked(Some(Severity::Error)), None, None);
        assert_eq!((outcome, output.as_str()), (Outcome::Findings, ""));
        assert!(report.contains("error[off-bed]: too wide") && report.contains("nothing is written"), "{report}");
        let (outcome, output, report) = written(&checked(Some(Severity::Warning)), None, None);
        assert_eq!((outcome, output.as_str()), (Outcome::Findings, "short+long all"));
        assert!(report.contains("warning[edge-tuck]: too wide"), "{report}");
    }

    #[test]
    fn what_holds_for_another_size_is_left_out() {
        let (outcome, output, report) = written(&checked(Some(Severity::Error)), Some("short"), None);
        assert_eq!((outcome, output.as_str(), report.as_str()), (Outcome::Clean, "short all", ""));
    }
}
