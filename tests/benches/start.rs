//! `wale check` of the largest example, beside starting a process that does nothing.

use std::process::{Command, Stdio};
use std::time::Instant;

const RUNS: usize = 200;

pub(crate) fn bench() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let largest = std::fs::read_dir(&folder)
        .expect("the examples are there")
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "wale"))
        .max_by_key(|path| path.metadata().map_or(0, |data| data.len()))
        .expect("there is an example");
    let mut check = Command::new(env!("CARGO_BIN_EXE_wale"));
    check.arg("check").arg(&largest).stdout(Stdio::null());
    let mut nothing = Command::new("true");
    // In turn, so that both meet the same machine.
    let mut times: [Vec<f64>; 2] = Default::default();
    for _ in 0..RUNS {
        for (command, times) in [&mut check, &mut nothing].into_iter().zip(&mut times) {
            let begun = Instant::now();
            assert!(command.status().expect("it starts").success());
            times.push(begun.elapsed().as_secs_f64());
        }
    }
    let [ours, theirs] = times.map(|mut times| {
        times.sort_by(f64::total_cmp);
        times[RUNS / 2]
    });
    println!(
        "wale check {}: {:.2} ms, a process that does nothing: {:.2} ms, medians of {RUNS}   (ratio {:.2}; goal at most 3)",
        largest.file_name().unwrap_or_default().display(),
        ours * 1e3,
        theirs * 1e3,
        ours / theirs
    );
}
