//! Going through the statements of a tree, without calls in each other however deep its blocks are.

use super::tree::{Statement, Tree};
#[cfg(feature = "serve")]
use crate::source::Span;

impl Tree {
    /// All statements, those in blocks behind the one that has the block.
    pub(crate) fn each(&self) -> impl Iterator<Item = &Statement> {
        each(&self.statements)
    }
}

impl Statement {
    /// The statements of its block; none where it has no block.
    pub(crate) fn inner(&self) -> &[Statement] {
        self.body.as_ref().map_or(&[], |body| &body.statements)
    }

    /// All statements in its block and in the blocks there.
    pub(crate) fn each_inner(&self) -> impl Iterator<Item = &Statement> {
        each(self.inner())
    }

    /// Its words with its block, up to the last line where the block is not closed.
    #[cfg(feature = "serve")]
    pub(crate) fn whole(&self) -> Span {
        let (mut whole, mut last) = (self.span, self);
        while let Some(body) = &last.body {
            whole = whole.join(body.close.unwrap_or(body.open));
            let (None, Some(inner)) = (body.close, body.statements.last()) else { break };
            (whole, last) = (whole.join(inner.span), inner);
        }
        whole
    }
}

fn each(statements: &[Statement]) -> impl Iterator<Item = &Statement> {
    let mut open = vec![statements.iter()];
    std::iter::from_fn(move || {
        loop {
            let Some(statement) = open.last_mut()?.next() else {
                open.pop();
                continue;
            };
            open.push(statement.inner().iter());
            return Some(statement);
        }
    })
}
