//! Names that are given and never used.

use crate::catalogue::Severity;
use crate::finding::Finding;
use crate::plan::names::{Entry, Names, Sort};
use crate::plan::rules;
use crate::source::FileId;
use crate::syntax::tree::{Kind, Tree};

/// The findings about what is declared in the pattern and never used. Files that it uses may offer more than is
/// taken, and so may a text without a title, which is no whole pattern yet. After another mistake nobody knows: the
/// name may be meant where it is misspelt.
pub(super) fn find(names: &Names<'_>, trees: &[(FileId, Tree)], findings: &[Finding]) -> Vec<Finding> {
    let Some((main, _)) = trees.last() else { return Vec::new() };
    let unsure = findings.iter().any(|finding| finding.rule.severity == Severity::Error)
        // A line that could not be read may be the one that uses the name.
        || trees.iter().flat_map(|(_, tree)| tree.each()).any(|statement| statement.kind == Kind::Broken);
    if names.title.is_none() || names.pieces.is_empty() || unsure {
        return Vec::new();
    }
    let used = names.resolved.used();
    let sorts = [
        (Sort::Yarn, "yarn", "thread"),
        (Sort::Value, "value", ""),
        (Sort::Stitch, "stitch", "work"),
        (Sort::Chart, "chart", "follow"),
    ];
    let mut found = Vec::new();
    for (sort, word, uses) in sorts {
        let is_unused = |entry: &Entry<'_>| entry.name.span.file == *main && !used.contains(&entry.thing);
        for entry in names.all(sort).filter(is_unused) {
            let name = crate::plan::say::clipped(&entry.name.text);
            let mend = match uses {
                "" => "Look for the line that should name it, or take it out.".to_owned(),
                uses => format!("Look for the line that should say `{uses} {name}`, or take the {word} out."),
            };
            found.push(
                rules::UNUSED_NAME.finds(entry.name.span,
                    format!("nothing in the pattern uses the {word} `{name}`"),
                )
                .because("What has a name and is never used is mostly what remains of a line that was left out, or that names something else.")
                .mend(mend),
            );
        }
    }
    found
}
