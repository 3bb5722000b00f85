//! Writes what the fuzzer begins with into the folder that is named: the examples and those of the rules as texts under
//! `seeds/`, and the words of the language as `words.dict`.

use std::path::Path;

fn main() -> std::io::Result<()> {
    let folder = std::env::args().nth(1).unwrap_or_else(|| "tests/fuzz/guided/corpus".to_owned());
    let folder = Path::new(&folder);
    let seeds = folder.join("seeds");
    std::fs::create_dir_all(&seeds)?;
    let mut words: Vec<String> = wale::syntax::keywords().iter().map(|word| (*word).to_owned()).collect();
    words.extend(["L30-R29", "R1", "||..", "120 (160) cm", "because", " {\\x0a", "}\\x0a", "\\x0a"].map(str::to_owned));
    // A sign and a letter that look like plain ones, from each of the tables, and what nobody can see.
    words.extend(
        [
            "\u{201c}", "\u{2013}", "\u{d7}", "\u{a0}", "\u{2028}", "\u{200b}", "\u{feff}", "\u{ff08}", "\u{ff13}",
            "\u{43e}", "\u{3bf}", "\u{663}",
        ]
        .map(|odd| odd.bytes().map(|byte| format!("\\x{byte:02x}")).collect()),
    );
    let quoted: String = words.iter().map(|word| format!("\"{word}\"\n")).collect();
    std::fs::write(folder.join("words.dict"), quoted)?;
    for rule in wale::rules::ALL.iter() {
        for (kind, text) in [("bad", rule.bad), ("good", rule.good)] {
            std::fs::write(seeds.join(format!("{}-{kind}.wale", rule.name)), wale::catalogue::Rule::whole(text))?;
        }
    }
    for entry in std::fs::read_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../examples"))? {
        let path = entry?.path();
        if let Some(name) = path.file_name().filter(|_| path.extension().is_some_and(|ending| ending == "wale")) {
            std::fs::copy(&path, seeds.join(name))?;
        }
    }
    Ok(())
}
