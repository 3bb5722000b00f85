//! The schemas that programs are given are those of the types that are written.

use std::path::Path;

#[test]
fn the_schemas_are_those_that_are_kept() {
    for (name, schema) in [("trace", crate::write::trace::schema()), ("compare", crate::compare::form::schema())] {
        jsonschema::meta::validate(&schema).expect("it is a schema");
        let made = serde_json::to_string_pretty(&schema).expect("a schema is JSON") + "\n";
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("grammar/{name}.schema.json"));
        if std::env::var_os("WALE_REWRITE").is_some() {
            std::fs::write(&path, &made).expect("it can be written");
        }
        let kept = std::fs::read_to_string(&path).expect("it is there");
        let same = kept.lines().zip(made.lines()).take_while(|(kept, made)| kept == made).count();
        assert!(
            kept == made,
            "{name}.schema.json is another from line {}. If that is meant: WALE_REWRITE=1 cargo test --lib schemas",
            same + 1
        );
    }
}
