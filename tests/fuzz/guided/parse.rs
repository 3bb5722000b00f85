//! Any text can be parsed.
#![no_main]

#[path = "../../common/sound.rs"]
mod sound;

libfuzzer_sys::fuzz_target!(|text: &str| {
    if let Err(error) = sound::read(text) {
        panic!("{error}");
    }
});
