//! The words of lines that name needles and say nothing more: what is done, and to which needles. One row a sort of line.

use super::grammar::Rule;

macro_rules! lines {
    ($($(#[$written:meta])* $name:ident = $rule:ident $($behind:ident)?,)+) => {
        /// What is done to the needles that a line names.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum NeedlesWord {
            $($(#[$written])* $name,)+
        }

        impl NeedlesWord {
            /// What a line of that rule does, and the rule of what stands behind its first word; none for other lines.
            pub(super) const fn of_rule(rule: Rule) -> Option<(Self, Option<Rule>)> {
                match rule {
                    $(Rule::$rule => Some((Self::$name, [$(Some(Rule::$behind),)? None][0])),)+
                    _ => None,
                }
            }
        }
    };
}

lines! {
    /// `in work front L30-R30, back L30-R29`
    InWork = in_work work_word,
    /// `out of work back`
    OutOfWork = out_of_work of_work,
    /// `hold front leftmost 5`
    Hold = hold,
    /// `release front`
    Release = release,
    /// `new loops front L31`
    NewLoops = new_loops loops,
    /// `drop front R5`
    Drop = drop_loops,
    /// `bind off front`
    BindOff = bind_off off,
}
