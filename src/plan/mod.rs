//! From a tree to a program: names, units, sizes, definitions and repeats worked out.
//!
//! [`gather`] reads the files that a pattern uses; [`plan`] makes one [`program::Program`] for each size. Nothing is
//! knitted here: what depends on which needles carry stitches is found out while the program is played.

mod gather;
mod layout;
mod limits;
mod lower;
mod names;
pub mod program;
pub(crate) mod rules;
mod say;
#[cfg(test)]
mod tests;
mod unused;
mod values;
mod worked;

pub use gather::gather;
pub(crate) use worked::values;
pub use worked::{NamedValue, Worked};

use crate::finding::{Finding, merge_sizes};
use crate::source::{FileId, Sources};
use crate::syntax::tree::{Kind, Name, Statement, Tree};
use lower::lowering::Lowering;
use names::Names;
use program::Program;

/// Works out one program for each size; a pattern without sizes has one, whose size is none.
///
/// `trees` holds the used files before the file that uses them and the pattern itself last, as [`gather`] gives them.
/// A statement that cannot be understood is left out, and everything else is still worked out. A finding that holds
/// in every size is given once and names no size. The findings are sorted by file and place.
#[must_use]
pub fn plan(sources: &Sources, trees: &[(FileId, Tree)]) -> (Vec<Program>, Vec<Finding>) {
    plan_named(sources, trees, &crate::names::Names::of(trees))
}

/// The same, with the names in the trees.
pub(crate) fn plan_named(
    sources: &Sources,
    trees: &[(FileId, Tree)],
    resolved: &crate::names::Names,
) -> (Vec<Program>, Vec<Finding>) {
    #[cfg(test)]
    crate::counted::note(crate::counted::Work::Planned);
    let mut shared = layout::check(sources, trees);
    let names = Names::collect(sources, trees, resolved, &mut shared);
    let charts = values::chart::read_all(&names, &mut shared);
    let mut programs = Vec::new();
    let mut found = Vec::new();
    for size in 0..names.sizes.len().max(1) {
        let mut lowering = Lowering::new(&names, &charts, size);
        programs.push(lowering.program());
        found.push((names.sizes.get(size).map(|name| name.text.to_string()), lowering.into_findings()));
    }
    shared.extend(merge_sizes(found));
    let unused = unused::find(&names, trees, &shared);
    shared.extend(unused);
    shared.sort_by_key(|finding| finding.at.span);
    (programs, shared)
}

/// Whether a word is one of the language's that no name may be.
#[must_use]
pub fn is_reserved(name: &Name) -> bool {
    names::reserved(name).is_some()
}

/// The names of rules that `allow` lines give, in the order of the files. This room does not know the rules; whoever
/// does checks these names.
#[must_use]
pub fn allowed_rules<'t>(trees: &'t [(FileId, Tree)]) -> Vec<&'t Name> {
    let name = |statement: &'t Statement| if let Kind::Allow(name, _) = &statement.kind { Some(name) } else { None };
    trees.iter().flat_map(|(_, tree)| tree.each()).filter_map(name).collect()
}
