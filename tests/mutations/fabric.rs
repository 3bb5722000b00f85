//! What is knitted, read from the trace alone: two patterns are the same knitting when this is the same.

use serde_json::{Map, Value, json};

/// Everything that makes loops or moves them, in order, for each size and piece, as the trace tells it. Where the line
/// stands, the order of settings, needles that were put in work and never used, and needles that slipped, which follows
/// from the others, are left out: the fabric does not show them.
pub fn fabric(checked: &wale::Checked) -> Value {
    let programs: Vec<_> = checked.programs.iter().collect();
    let mut out = Vec::new();
    wale::write::trace::write(&mut out, &programs, &checked.sources, None).expect("memory takes everything");
    let trace: Value = serde_json::from_slice(&out).expect("a trace is JSON");
    let of_piece = |piece: &Value| {
        let made = piece["operations"].as_array().into_iter().flatten().filter_map(operation).collect::<Vec<_>>();
        json!({ "piece": piece["piece"], "make": piece["make"], "made": made })
    };
    let of_size = |size: &Value| {
        let pieces = size["pieces"].as_array().into_iter().flatten().map(of_piece).collect::<Vec<_>>();
        json!({ "size": size["size"], "pieces": pieces })
    };
    trace["sizes"].as_array().into_iter().flatten().map(of_size).collect()
}

/// What does not make a loop or move one; how it left the beds is told with the next row.
const SETTINGS: &[&str] = &[
    "in work",
    "out of work",
    "hold",
    "release",
    "gaiting",
    "rack",
    "racking",
    "thread",
    "stitch size",
    "carriage",
    "reset counter",
    "expect",
];

fn operation(operation: &Value) -> Option<Value> {
    // What is only said comes without the statement it stands in.
    if operation["source"].is_null() || SETTINGS.contains(&operation["what"].as_str()?) {
        return None;
    }
    let mut kept = operation.as_object()?.clone();
    kept.remove("number");
    for name in ["source", "sections", "pass", "new_loops", "claimed"] {
        kept.remove(name);
    }
    for bed in ["front", "back"] {
        if let Some(Value::Object(did)) = kept.get_mut(bed) {
            did.remove("slip");
            if did.keys().all(|key| key == "size") {
                kept.remove(bed);
            }
        }
    }
    Some(Value::Object(kept))
}

/// The same without what an eye cannot tell: stitch sizes.
pub fn without(value: &Value, names: &[&str]) -> Value {
    match value {
        Value::Object(map) => {
            let kept = map.iter().filter(|(name, _)| !names.contains(&name.as_str()));
            Value::Object(kept.map(|(name, value)| (name.clone(), without(value, names))).collect::<Map<_, _>>())
        }
        Value::Array(list) => list.iter().map(|value| without(value, names)).collect(),
        other => other.clone(),
    }
}

/// The trace without the places in the text; none where there are errors.
pub fn trace(checked: &wale::Checked) -> Option<String> {
    if checked.findings.iter().any(|finding| finding.rule.severity == wale::catalogue::Severity::Error) {
        return None;
    }
    let programs: Vec<_> = checked.programs.iter().collect();
    let mut out = Vec::new();
    wale::write::trace::write(&mut out, &programs, &checked.sources, None)
        .expect("memory takes everything, and a trace is JSON");
    Some(
        without(&serde_json::from_slice(&out).expect("memory takes everything, and a trace is JSON"), &["source"])
            .to_string(),
    )
}
