//! A page about a word, some work or a symptom, as text.

use super::screen::Screen;
use super::wrap::wrapped_to;
use crate::explain::{Page, Sort, names_of, words_in};

/// The most letters of a line: a page is for paper too.
const PAPER: usize = 78;

/// A page in full; ends in a newline. It fits on one sheet of paper, with 60 lines of 78 letters.
#[must_use]
pub fn text_on(page: &Page, screen: Screen) -> String {
    let width = screen.width().min(PAPER);
    let mut out = page.name.to_owned();
    if !page.also.is_empty() {
        out.push_str(&format!(" (also: {})", page.also.join(", ")));
    }
    out = wrapped_to(width, &out, 0, 0) + "\n";
    for says in page.says {
        out.push_str(&format!("\n{}\n", wrapped_to(width, says, 0, 0)));
    }
    block(&mut out, "The machine, seen from above", page.picture());
    block(&mut out, "Lines with it", &page.lines());
    if page.name == "words" {
        listed(&mut out, "Words", &names_of(Sort::Word).collect::<Vec<_>>(), width);
    }
    listed(&mut out, "Rules", page.rules, width);
    listed(&mut out, "Read on", page.pages, width);
    out
}

/// The words in the text of a rule that have a page, to stand below it; nothing where there are none.
#[must_use]
pub fn words_below(text: &str, screen: Screen) -> String {
    let names: Vec<&str> = words_in(text).iter().map(|page| page.name).collect();
    let mut out = String::new();
    listed(&mut out, "Words in it, for `wale explain`", &names, screen.width());
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

fn listed(out: &mut String, title: &str, names: &[&str], width: usize) {
    if !names.is_empty() {
        out.push_str(&format!("\n{title}\n  {}\n", wrapped_to(width, &names.join(", "), 2, 2)));
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

    /// As it comes from a printer, which has no width of its own to tell, and in a terminal of 80 columns.
    #[test]
    fn each_page_is_a_handout_of_one_sheet() {
        for screen in [Screen::default(), Screen::new(super::super::Colour::Plain, Some(80))] {
            for page in PAGES.iter() {
                let text = text_on(page, screen);
                assert!(text.lines().count() <= 60, "{}: {} lines", page.name, text.lines().count());
                let widest = text.lines().map(|line| line.chars().count()).max();
                assert!(widest <= Some(80), "{}: {widest:?}", page.name);
            }
        }
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
