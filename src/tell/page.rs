//! A page about a word, some work or a symptom, as text.

use super::screen::Screen;
use super::wrap::wrapped_to;
use crate::explain::{Page, Sort, names_of, words_in};

/// A page in full; ends in a newline.
#[must_use]
pub fn text_on(page: &Page, screen: Screen) -> String {
    let mut out = page.name.to_owned();
    if !page.also.is_empty() {
        out.push_str(&format!(" (also: {})", page.also.join(", ")));
    }
    out = wrapped_to(screen.width(), &out, 0, 0) + "\n";
    for says in page.says {
        out.push_str(&format!("\n{}\n", wrapped_to(screen.width(), says, 0, 0)));
    }
    block(&mut out, "The machine, seen from above", page.picture());
    block(&mut out, "Lines with it", &page.lines());
    if page.name == "words" {
        listed(&mut out, "Words", &names_of(Sort::Word).collect::<Vec<_>>(), screen);
    }
    listed(&mut out, "Rules", page.rules, screen);
    listed(&mut out, "Read on", page.pages, screen);
    out
}

/// The words in the text of a rule that have a page, to stand below it; nothing where there are none.
#[must_use]
pub fn words_below(text: &str, screen: Screen) -> String {
    let names: Vec<&str> = words_in(text).iter().map(|page| page.name).collect();
    let mut out = String::new();
    listed(&mut out, "Words in it, for `wale explain`", &names, screen);
    out
}

fn block(out: &mut String, title: &str, lines: &[&str]) {
    if !lines.is_empty() {
        out.push_str(&format!("\n{title}\n"));
        for line in lines {
            out.push_str(format!("    {line}").trim_end());
            out.push('\n');
        }
    }
}

fn listed(out: &mut String, title: &str, names: &[&str], screen: Screen) {
    if !names.is_empty() {
        out.push_str(&format!("\n{title}\n  {}\n", wrapped_to(screen.width(), &names.join(", "), 2, 2)));
    }
}

#[cfg(test)]
mod tests {
    use super::{Screen, text_on, words_below};
    use crate::explain::{PAGES, find};

    #[test]
    fn a_word_shows_its_sentence_its_lines_and_the_picture() {
        let text = text_on(find("front").expect("it has a page"), Screen::default());
        let lines: Vec<&str> = text.lines().collect();
        assert_eq!(lines.first(), Some(&"front bed (also: front)"));
        assert!(lines.iter().any(|line| line.starts_with("The bed nearer to you")), "{text}");
        assert!(text.contains("\nThe machine, seen from above\n    back bed    L4"), "{text}");
        assert!(text.contains("\nLines with it\n    row front knit, back tuck\n"), "{text}");
        assert!(text.ends_with("\nRead on\n  back bed\n"), "{text}");
    }

    #[test]
    fn pages_keep_to_the_width() {
        let screen = Screen::new(super::super::Colour::Plain, Some(80));
        for page in PAGES.iter() {
            let text = text_on(page, screen);
            assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
        }
        assert_eq!(words_below("nothing of the trade", screen), "");
    }
}
