//! Which statement may stand where. Looked at once for all sizes, before anything is worked out.

use crate::catalogue::Rule;
use crate::finding::{Finding, Label};
use crate::plan::limits::MOST_DEPTH;
use crate::plan::rules;
use crate::plan::say::clipped;
use crate::source::{FileId, Sources, Span};
use crate::syntax;
use crate::syntax::forms::{Home, all, form};
use crate::syntax::tree::{Block, Kind, MachineLine, Statement, Tree};
use crate::words::count;

fn words(home: Home) -> String {
    match home {
        Home::Top => "at the top of a file, outside every block".to_owned(),
        Home::Work => "between the braces of a `piece`, a `section` or a `stitch`".to_owned(),
        _ => {
            let first = all().filter(|form| form.block == Some(home)).map(|form| form.first);
            format!("between the braces of a `{}`", first.collect::<String>())
        }
    }
}

/// Looks over all files. Findings: `misplaced-line`, `not-there-yet`, `too-deep`. A block that is
/// missing or needless has been reported when the text was read.
pub(super) fn check(sources: &Sources, trees: &[(FileId, Tree)]) -> Vec<Finding> {
    let mut layout = Layout { sources, findings: Vec::new(), run: None };
    for (at, (_, tree)) in trees.iter().enumerate() {
        let used = at + 1 < trees.len();
        // What the last line that lacks its whole block would have held: said there, and not of each line after it.
        let mut lacking = None;
        for statement in &tree.statements {
            let form = form(&statement.kind);
            if form.home == Some(Home::Top) {
                lacking = form.block.filter(|_| statement.body.is_none());
            } else if form.home.is_some_and(|home| Some(home) == lacking) {
                continue;
            }
            if used && matches!(statement.kind, Kind::Piece { .. } | Kind::Pattern(_)) {
                layout.in_used_file(statement);
            } else {
                layout.statement(statement, Home::Top, 0);
            }
        }
        layout.end_run();
    }
    layout.findings
}

/// Lines one after the other that all stand where they do not belong, for one reason.
struct Run {
    home: Home,
    place: Home,
    depth: usize,
    /// The finding of the first of them.
    finding: usize,
    /// How many more there are, and the last of them.
    more: usize,
    last: Span,
}

struct Layout<'a> {
    sources: &'a Sources,
    findings: Vec<Finding>,
    /// The lines before this one that do not belong where they stand.
    run: Option<Run>,
}

impl Layout<'_> {
    fn error(&mut self, rule: &'static Rule, statement: &Statement, what: String, why: &str, mend: String) {
        let finding = rule.finds(statement.span, what);
        self.findings.push(finding.because(why).mend(mend));
    }

    fn words(&self, statement: &Statement) -> String {
        clipped(self.sources.words(statement.span))
    }

    fn in_used_file(&mut self, statement: &Statement) {
        let thing = if matches!(statement.kind, Kind::Piece { .. }) { "a piece" } else { "a pattern's title" };
        self.error(
            &rules::MISPLACED_LINE,
            statement,
            format!("{thing} stands in a file that another pattern uses"),
            "A used file gives machines, yarns, gauges, stitches, charts and values; what is knitted is said by the \
             pattern itself.",
            "Move it into the pattern, or keep what both need in a third file.".to_owned(),
        );
    }

    /// Says of the lines before this one how many they are, if they are several.
    fn end_run(&mut self) {
        let Some(run) = self.run.take().filter(|run| run.more > 0) else { return };
        let finding = &mut self.findings[run.finding];
        let first = clipped(self.sources.words(finding.at.span));
        let more = count(run.more as u64, "line", "lines");
        finding.what = format!("`{first}` and the {more} after it do not belong here");
        finding.why = format!("They stand {}, and belong {}.", words(run.place), words(run.home));
        finding.mend = if run.home == Home::Work && run.place == Home::Top {
            "Open a piece first, `piece \"Title\" {`, and put the lines in it.".to_owned()
        } else {
            format!("Put them {}; perhaps a brace is missing or too many.", words(run.home))
        };
        finding.also = vec![Label { span: run.last, text: "the last of them".to_owned() }];
    }

    fn statement(&mut self, statement: &Statement, place: Home, depth: usize) {
        let form = form(&statement.kind);
        let Some(home) = form.home else { return };
        if home == place {
            self.end_run();
        } else if place == Home::Work
            && statement.body.is_none()
            && let Some((reason, mend, ways)) =
                syntax::meant_in_a_piece(self.sources.words(statement.span), statement.span)
        {
            let what = format!("`{}` does not belong here", self.words(statement));
            let mut finding = rules::MISPLACED_LINE.finds(statement.span, what).because(reason).mend(mend);
            finding.ways = ways;
            self.findings.push(finding);
            self.end_run();
            return;
        } else if let Some(run) = &mut self.run
            && (run.home, run.place, run.depth) == (home, place, depth)
        {
            run.more += 1;
            run.last = statement.span;
            return;
        } else {
            let line = self.words(statement);
            let mend = match (&statement.kind, home) {
                (Kind::Let(..), _) => "Write the `let` at the top of the file; it holds everywhere.".to_owned(),
                (Kind::Piece { .. }, _) => {
                    "Close the block before it with `}`, or use `section` for a part.".to_owned()
                }
                (_, Home::Work) if place == Home::Top => {
                    "Open a piece first, `piece \"Title\" {`, and put the line in it.".to_owned()
                }
                (Kind::MachineLine(MachineLine::Hold(_)), _) if place == Home::Work => {
                    "To bring held needles back to work write `release front`, `release back` or `release both`; what a \
                     machine can hold is said between the braces of the `machine`."
                        .to_owned()
                }
                _ => format!("Put it {}; perhaps a brace is missing or too many.", words(home)),
            };
            let what = format!("`{line}` does not belong here");
            let why = format!("It stands {}, and belongs {}.", words(place), words(home));
            self.end_run();
            self.error(&rules::MISPLACED_LINE, statement, what, &why, mend);
            self.run =
                Some(Run { home, place, depth, finding: self.findings.len() - 1, more: 0, last: statement.span });
            return;
        }
        self.not_there_yet(statement);
        if let (Some(holds), Some(body)) = (form.block, &statement.body) {
            self.block(statement, body, holds, depth + 1);
        }
    }

    fn block(&mut self, statement: &Statement, body: &Block, holds: Home, depth: usize) {
        if depth > MOST_DEPTH {
            self.error(
                &rules::TOO_DEEP,
                statement,
                "the blocks are nested too deep".to_owned(),
                &format!("There may be {MOST_DEPTH} blocks in each other."),
                "Give the inner part a name with `stitch` and `work` it.".to_owned(),
            );
            return;
        }
        let outer = self.run.take();
        for inner in &body.statements {
            self.statement(inner, holds, depth);
        }
        self.end_run();
        self.run = outer;
    }

    fn not_there_yet(&mut self, statement: &Statement) {
        let (what, instead) = match &statement.kind {
            Kind::Shape(_) => (
                "shaping that is spread evenly is not worked out yet",
                "Write it out with a repeat, each on a line of its own: `repeat 10 times {`, `rows 5 both knit`, \
                 `decrease front 1 at each edge`, `}`.",
            ),
            Kind::Arrange(_) => (
                "the way from one set-out to another is not worked out yet",
                "Write the `transfer`, `move`, `in work` and `out of work` lines yourself.",
            ),
            Kind::Fabric(_) => (
                "rows are not worked out from a fabric yet",
                "Write the moves as a `stitch`: a `transfer` where face and reverse change, and the rows between.",
            ),
            _ => return,
        };
        self.error(
            &rules::NOT_THERE_YET,
            statement,
            what.to_owned(),
            "The line is understood, but this version of wale cannot carry it out.",
            instead.to_owned(),
        );
    }
}
