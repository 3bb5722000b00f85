//! Any text can be checked, and what has no error can be written.
#![no_main]

#[path = "../../common/sound.rs"]
mod sound;

use wale::source::Library;

/// The one file that the examples `use`. It is not read from the disk: that would take more time than the check.
struct Machines;

impl Library for Machines {
    fn read(&self, _from: &str, path: &str) -> Result<(String, String), String> {
        match path {
            "machines/bollard-room.wale" => {
                Ok((path.to_owned(), include_str!("../../../examples/machines/bollard-room.wale").to_owned()))
            }
            _ => Err("there is no such file".to_owned()),
        }
    }
}

libfuzzer_sys::fuzz_target!(|text: &str| {
    if let Err(error) = sound::check_and_write(text, &Machines) {
        panic!("{error}");
    }
});
