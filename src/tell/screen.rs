//! What is known of the place where a text is read: how wide it is, and whether it shows colour.

use super::Colour;

/// A terminal, or a file that is read like one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Screen {
    /// Whether it shows colour.
    pub colour: Colour,
    /// Columns of a line.
    width: usize,
}

impl Screen {
    /// The most columns that are used, also where there is room for more: longer lines are hard to follow back.
    pub const WIDEST: usize = 100;
    /// The fewest columns that are reckoned with; a narrower terminal breaks the lines itself.
    pub const NARROWEST: usize = 40;

    /// A screen of that many columns, as far as they are between [`Self::NARROWEST`] and [`Self::WIDEST`]; of the most
    /// where it is not known, as of a file or a pipe.
    #[must_use]
    pub fn new(colour: Colour, columns: Option<usize>) -> Self {
        Self { colour, width: columns.map_or(Self::WIDEST, |columns| columns.clamp(Self::NARROWEST, Self::WIDEST)) }
    }

    /// Columns that a line may have.
    #[must_use]
    pub const fn width(&self) -> usize {
        self.width
    }

    /// `text` in that ink, or plain where there is no colour.
    pub(crate) fn inked(&self, ink: Option<Ink>, text: &str) -> String {
        match ink.filter(|_| self.colour == Colour::Coloured && !text.is_empty()) {
            Some(ink) => format!("{}{text}\u{1b}[0m", ink.code()),
            None => text.to_owned(),
        }
    }
}

impl Default for Screen {
    fn default() -> Self {
        Self::new(Colour::Plain, None)
    }
}

impl From<Colour> for Screen {
    fn from(colour: Colour) -> Self {
        Self::new(colour, None)
    }
}

/// What a text is written in. Everything else is in the colour that the terminal has for text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Ink {
    /// An error, and the place of it.
    Error,
    /// A warning, and the place of it.
    Warning,
    /// What the eye should meet first.
    Strong,
    /// What was there before.
    Old,
    /// What is there now.
    New,
}

impl Ink {
    /// The sequence that turns it on. The colours are of the cube of 6 x 6 x 6 that terminals keep beside the first sixteen,
    /// which each theme sets as it likes: these few can be read on a white ground as well as on a black one.
    const fn code(self) -> &'static str {
        match self {
            Self::Error => "\u{1b}[1;38;5;196m",
            Self::Warning => "\u{1b}[1;38;5;163m",
            Self::Strong => "\u{1b}[1m",
            Self::Old => "\u{1b}[38;5;196m",
            Self::New => "\u{1b}[38;5;28m",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_width_stays_between_the_narrowest_and_the_widest() {
        let width = |columns| Screen::new(Colour::Plain, columns).width();
        assert_eq!(
            [width(None), width(Some(0)), width(Some(39)), width(Some(57)), width(Some(400))],
            [100, 40, 40, 57, 100]
        );
    }

    /// How much lighter the one is than the other, by the formula for the contrast ratio of the guidelines for accessible
    /// pages (WCAG 2, from memory).
    fn contrast(one: f64, other: f64) -> f64 {
        (one.max(other) + 0.05) / (one.min(other) + 0.05)
    }

    /// The light of a colour of the cube, between 0 and 1; its levels are those that terminals commonly have (from memory).
    fn light(number: u32) -> f64 {
        let level = |value: u32| {
            let value = f64::from([0, 95, 135, 175, 215, 255][value as usize]) / 255.0;
            if value <= 0.039_28 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
        };
        let number = number.checked_sub(16).expect("it is of the cube");
        0.2126 * level(number / 36) + 0.7152 * level(number / 6 % 6) + 0.0722 * level(number % 6)
    }

    #[test]
    fn every_colour_can_be_read_on_white_and_on_black() {
        // Yellow, which is not among them, and the green that is.
        assert!(contrast(light(226), 1.0) < 1.2 && contrast(light(28), 1.0) > 4.5);
        for ink in [Ink::Error, Ink::Warning, Ink::Old, Ink::New] {
            let (_, number) = ink.code().trim_end_matches('m').rsplit_once(';').expect("it names a colour");
            let light = light(number.parse().expect("a number"));
            let (white, black) = (contrast(light, 1.0), contrast(light, 0.0));
            assert!(white >= 3.99 && black >= 3.99, "{ink:?}: {white} on white, {black} on black");
        }
    }
}
