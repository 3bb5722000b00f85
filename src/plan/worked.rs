//! What the values are that `let` names, in every size: for those who lay two patterns side by side or ask what a name means.

use crate::plan::names::{Names, Sort};
use crate::plan::values::context::Values;
use crate::plan::values::quantity::printed;
use crate::plan::values::value::Value;
use crate::source::{FileId, Sources, Span};
use crate::syntax::tree::Tree;

/// A value with a name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedValue {
    /// Its name.
    pub name: String,
    /// The line that gives it.
    pub span: Span,
    /// For each size, in the order of the pattern; none where it could not be worked out.
    pub values: Vec<Option<Worked>>,
}

/// A value in one size.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Worked {
    /// The size, where the pattern has any.
    pub size: Option<String>,
    /// The exact value, in a form that is the same for the same value only.
    pub exact: String,
    /// As it is printed; none for a selection of needles.
    pub printed: Option<String>,
    /// What a message calls it, such as `a selection of needles`.
    pub kind: &'static str,
}

/// The values that `let` names in those files, in the order of the text. `trees` and `resolved` are as for
/// [`super::plan_named`]. What there is to say against them is said there.
#[must_use]
pub(crate) fn values(sources: &Sources, trees: &[(FileId, Tree)], resolved: &crate::names::Names) -> Vec<NamedValue> {
    let mut passed_over = Vec::new();
    let names = Names::collect(sources, trees, resolved, &mut passed_over);
    let named = |entry: crate::plan::names::Entry<'_>| NamedValue {
        name: entry.name.text.to_string(),
        span: entry.statement.span,
        values: Vec::new(),
    };
    let mut found: Vec<NamedValue> = names.all(Sort::Value).map(named).collect();
    for size in 0..names.sizes.len().max(1) {
        let mut values = Values::new(&names, size);
        for (entry, found) in names.all(Sort::Value).zip(&mut found) {
            found.values.push(values.let_value(entry).map(|value| {
                let (exact, printed) = match &value {
                    Value::Amount(amount) => {
                        (format!("{:?} {:?}", amount.measure, amount.exact), Some(printed(amount)))
                    }
                    Value::Selection(pick, _) => (format!("{pick:?}"), None),
                };
                let size = names.sizes.get(size).map(|name| name.text.to_string());
                Worked { size, exact, printed, kind: value.words() }
            }));
        }
    }
    found
}
