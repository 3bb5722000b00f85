//! Every pattern of the project is parsed without trouble, and a mistake does not spoil more than its line.

use wale_tree_sitter_test::{parse, patterns, troubles, visit};

#[test]
fn every_pattern_of_the_project_is_parsed() {
    let patterns = patterns();
    assert!(patterns.len() > 100, "{} patterns", patterns.len());
    let troubles: Vec<String> = patterns
        .iter()
        .flat_map(|(name, text)| troubles(text).into_iter().map(move |trouble| format!("{name}:{trouble}")))
        .collect();
    assert!(troubles.is_empty(), "{}", troubles.join("\n"));
}

/// The parser of wale and this one agree on the lines: as many statements of a sort that both have a name for.
#[test]
fn both_parsers_find_the_same_lines() {
    let heads =
        ["row", "rows", "transfer", "repeat", "piece", "section", "stitch", "machine", "yarn", "work", "expect"];
    for (name, text) in patterns() {
        let tree = parse(&text);
        let mut found = vec![0; heads.len()];
        visit(tree.root_node(), &mut |node| {
            if let Some(at) = heads.iter().position(|head| node.is_named() && node.kind() == *head) {
                found[at] += 1;
            }
        });
        let mut read = vec![0; heads.len()];
        let (tree, findings) = wale::syntax::read(wale::source::FileId(0), &text);
        assert!(findings.is_empty(), "{name}");
        count(&tree.statements, &heads, &mut read);
        assert_eq!(found, read, "{name}: {heads:?}");
    }
}

fn count(statements: &[wale::syntax::tree::Statement], heads: &[&str], read: &mut [usize]) {
    use wale::syntax::tree::Kind;
    for statement in statements {
        let head = match &statement.kind {
            Kind::Row(_) => "row",
            Kind::Rows(..) => "rows",
            Kind::Transfer { .. } => "transfer",
            Kind::Repeat(_) => "repeat",
            Kind::Piece { .. } => "piece",
            Kind::Section(_) => "section",
            Kind::Stitch { .. } => "stitch",
            Kind::Machine(_) => "machine",
            Kind::Yarn(_) => "yarn",
            Kind::Work { .. } => "work",
            Kind::Expect(_) => "expect",
            _ => "",
        };
        if let Some(at) = heads.iter().position(|other| *other == head) {
            read[at] += 1;
        }
        if let Some(body) = &statement.body {
            count(&body.statements, heads, read);
        }
    }
}

#[test]
fn a_line_with_a_mistake_leaves_the_others_whole() {
    let text =
        "piece \"Strap\" {\n    in work front L3-R3\n    row both knitt\n    row front knit\n    bind off front\n}\n";
    assert!(troubles(text).iter().all(|trouble| trouble.starts_with("3:")), "{:?}", troubles(text));
    assert!(!troubles(text).is_empty(), "the mistake is seen");
    let mut seen = Vec::new();
    visit(parse(text).root_node(), &mut |node| seen.push(node.kind().to_owned()));
    for kind in ["piece", "in_work", "bind_off"] {
        assert!(seen.iter().any(|other| other == kind), "{kind} in {seen:?}");
    }
}
