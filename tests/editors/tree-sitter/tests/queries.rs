//! The queries that editors colour, fold and indent by.

use std::collections::BTreeMap;
use std::fs;
use std::ops::Range;
use streaming_iterator::StreamingIterator;
use tree_sitter::{Query, QueryCursor};
use wale_tree_sitter_test::{grammar, language, parse, patterns, read, root, visit};

fn query(text: &str) -> Query {
    Query::new(&language(), text).unwrap_or_else(|error| panic!("{error}"))
}

/// What is captured, by place in the text; where several patterns fit, the last one counts.
fn captured(query: &Query, text: &str) -> BTreeMap<(usize, usize), String> {
    let tree = parse(text);
    let mut cursor = QueryCursor::new();
    let mut found: BTreeMap<(usize, usize), (usize, String)> = BTreeMap::new();
    let mut captures = cursor.captures(query, tree.root_node(), text.as_bytes());
    while let Some((fits, at)) = captures.next() {
        let capture = fits.captures[*at];
        let Range { start, end } = capture.node.byte_range();
        let entry = found.entry((start, end)).or_default();
        if fits.pattern_index >= entry.0 {
            *entry = (fits.pattern_index, query.capture_names()[capture.index as usize].to_owned());
        }
    }
    found.into_iter().map(|(place, (_, name))| (place, name)).collect()
}

#[test]
fn every_query_fits_the_grammar() {
    let mut read_queries = 0;
    for folder in ["editors/tree-sitter-wale/queries", "editors/vim/queries/wale", "editors/helix/queries"] {
        for entry in fs::read_dir(root().join(folder)).expect("the queries are there") {
            let path = entry.expect("a file of queries").path();
            let query = Query::new(&language(), &read(&path));
            assert!(query.is_ok(), "{}: {:?}", path.display(), query.err());
            read_queries += 1;
        }
    }
    assert!(read_queries >= 12, "{read_queries} files");
}

#[test]
fn everything_in_every_pattern_has_a_colour() {
    for name in ["editors/tree-sitter-wale/queries/highlights.scm", "editors/helix/queries/highlights.scm"] {
        let query = query(&read(&root().join(name)));
        for (pattern, text) in patterns() {
            let captured = captured(&query, &text);
            visit(parse(&text).root_node(), &mut |node| {
                let Range { start, end } = node.byte_range();
                if node.child_count() == 0 && !text[start..end].trim().is_empty() {
                    assert!(captured.contains_key(&(start, end)), "{pattern}: `{}`", &text[start..end]);
                }
            });
        }
    }
}

#[test]
fn places_where_a_word_alone_does_not_say_what_it_is() {
    let text = "\
machine half { needles 66 each side }
gauge rib { 26 stitches and 44 rows in 4 in, washed }
stitch rib (depth rows) on both {
    rows depth both knit
    stitch size 5
}
piece \"Scarf\" on half {
    in work front half each side
    work rib (depth 3 rows) 4 times
    allow long-float because \"cut later\" {
        row front slip on L8-R8, knit elsewhere   # the floats
    }
    thread slate
}
";
    let query = query(&read(&grammar().join("queries/highlights.scm")));
    let captured = captured(&query, text);
    // The words before it, which stand nowhere else, the word, and its capture.
    let places = [
        ("", "machine", "keyword.type"),
        ("machine ", "half", "type"),
        ("{ ", "needles", "type"),
        ("gauge rib { ", "26", "number"),
        ("26 ", "stitches", "type"),
        ("44 ", "rows", "type"),
        ("44 rows ", "in", "operator"),
        (" 4 ", "in", "type"),
        ("stitch ", "rib", "function"),
        ("(", "depth", "variable.parameter"),
        ("(depth ", "rows", "type"),
        ("    ", "rows", "function.builtin"),
        ("    rows ", "depth", "variable"),
        ("    ", "stitch", "attribute"),
        ("piece ", "\"Scarf\"", "markup.heading"),
        ("\" on ", "half", "type"),
        ("    ", "in", "function.builtin"),
        ("    in ", "work", "function.builtin"),
        ("front ", "half", "variable"),
        ("    ", "work", "keyword.repeat"),
        ("    work ", "rib", "function"),
        ("rib (", "depth", "variable.parameter"),
        ("4 ", "times", "keyword.repeat"),
        ("allow ", "long-float", "label"),
        ("because ", "\"cut later\"", "string"),
        ("on ", "L8", "constant"),
        ("elsewhere   ", "# the floats", "comment"),
        ("thread ", "slate", "type"),
    ];
    for (before, word, capture) in places {
        let both = format!("{before}{word}");
        let start = text.find(&both).unwrap_or_else(|| panic!("`{both}` stands in the text")) + before.len();
        let found = captured.get(&(start, start + word.len())).map(String::as_str);
        assert_eq!(found, Some(capture), "`{both}`");
    }
}

#[test]
fn blocks_can_be_folded() {
    let query = query(&read(&grammar().join("queries/folds.scm")));
    for (name, text) in patterns() {
        let blocks = text.lines().map(|line| outside(line).matches('{').count()).sum::<usize>();
        assert_eq!(captured(&query, &text).len(), blocks, "{name}");
    }
}

/// A line without what is in quotation marks and without its comment.
fn outside(line: &str) -> String {
    let bare: String = line.split('"').step_by(2).collect::<Vec<_>>().join(" ");
    bare.split('#').next().unwrap_or_default().to_owned()
}

#[test]
fn tags_name_what_a_pattern_declares() {
    let query = query(&read(&grammar().join("queries/tags.scm")));
    let text = read(&root().join("examples/lantern-hat.wale"));
    let found: Vec<&str> = captured(&query, &text)
        .into_iter()
        .filter(|(_, name)| name == "name")
        .map(|((start, end), _)| &text[start..end])
        .collect();
    assert_eq!(found, ["ember", "half", "brim", "height", "rib", "crown", "\"Hat\"", "rib", "crown"]);
}
