//! A sign of life on the error output while work takes long: what is being done, and for how long. It shows only on a
//! terminal, only after a while, and leaves nothing behind.

use std::io::{self, Write};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// Work that is done sooner needs no sign.
const PATIENCE: Duration = Duration::from_millis(700);
const TICK: Duration = Duration::from_millis(120);
/// What turns before the words.
const TURNS: [&str; 4] = ["-", "\\", "|", "/"];
/// The most characters of a sign: on a line that is broken by the terminal it could not be taken away.
const LONGEST: usize = 60;

/// What is shown; taken away when it is dropped.
pub(crate) struct Progress {
    sign: Arc<Mutex<Sign>>,
    ends: Option<(mpsc::Sender<()>, JoinHandle<()>)>,
}

/// The sign, and where it is shown once it is.
#[derive(Default)]
struct Sign {
    words: String,
    turn: usize,
    shown: bool,
    target: Option<Box<dyn Write + Send>>,
}

impl Sign {
    /// Shows it, with the seconds that have passed.
    fn show(&mut self, seconds: u64) {
        self.turn = (self.turn + 1) % TURNS.len();
        let words: String = self.words.chars().take(LONGEST).collect();
        let Some(target) = &mut self.target else { return };
        // A sign that cannot be shown is missed by nobody.
        let _ = write!(target, "\r{} {words} ({seconds}s)\x1b[K", TURNS[self.turn]).and_then(|()| target.flush());
        self.shown = true;
    }

    /// Takes it away, so that something else can stand on its line.
    fn hide(&mut self) {
        if let (true, Some(target)) = (std::mem::take(&mut self.shown), &mut self.target) {
            let _ = write!(target, "\r\x1b[K").and_then(|()| target.flush());
        }
    }
}

/// Nobody who holds it can leave it in pieces, so it is good even after a panic.
fn held(sign: &Mutex<Sign>) -> MutexGuard<'_, Sign> {
    sign.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Progress {
    /// Nothing is ever shown.
    pub(crate) fn none() -> Self {
        Self { sign: Arc::default(), ends: None }
    }

    /// Shown on the error output, which must be a terminal.
    pub(crate) fn on_terminal() -> Self {
        Self::on(io::stderr(), PATIENCE)
    }

    fn on(target: impl Write + Send + 'static, patience: Duration) -> Self {
        let sign: Arc<Mutex<Sign>> = Arc::default();
        let (sender, ended) = mpsc::channel();
        let shown = Arc::clone(&sign);
        let thread = std::thread::spawn(move || {
            let begun = Instant::now();
            if ended.recv_timeout(patience) != Err(RecvTimeoutError::Timeout) {
                return;
            }
            held(&shown).target = Some(Box::new(target));
            while ended.recv_timeout(TICK) == Err(RecvTimeoutError::Timeout) {
                let mut sign = held(&shown);
                if !sign.words.is_empty() {
                    sign.show(begun.elapsed().as_secs());
                }
            }
            held(&shown).hide();
        });
        Self { sign, ends: Some((sender, thread)) }
    }

    /// Says what is being done.
    pub(crate) fn say(&self, words: impl Into<String>) {
        if self.ends.is_some() {
            held(&self.sign).words = words.into();
        }
    }

    /// A writer to the same terminal: the sign is taken away while it writes.
    pub(crate) fn beside<W: Write>(&self, writer: W) -> Beside<W> {
        Beside { sign: Arc::clone(&self.sign), writer }
    }
}

/// Writes where a sign may stand.
pub(crate) struct Beside<W> {
    sign: Arc<Mutex<Sign>>,
    writer: W,
}

impl<W: Write> Write for Beside<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut sign = held(&self.sign);
        sign.hide();
        self.writer.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        let mut sign = held(&self.sign);
        sign.hide();
        self.writer.flush()
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((sender, thread)) = self.ends.take() {
            drop(sender);
            // A thread that panicked has shown its last sign already.
            let _ = thread.join();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A terminal of one line: what is written is kept, and what is seen of it worked out.
    #[derive(Clone, Default)]
    struct Terminal(Arc<Mutex<Vec<u8>>>);

    impl Terminal {
        fn seen(&self) -> String {
            let all = String::from_utf8(self.0.lock().expect("nobody panics").clone()).expect("it is UTF-8");
            all.rsplit('\r').next().unwrap_or_default().replace("\x1b[K", "")
        }
    }

    impl Write for Terminal {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.0.lock().expect("nobody panics").extend_from_slice(bytes);
            Ok(bytes.len())
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    struct Looking(Terminal);

    impl Write for Looking {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            assert_eq!(self.0.seen(), "", "nothing stands in the way of other lines");
            Ok(bytes.len())
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn short_work_shows_nothing_and_long_work_says_what_it_is() {
        let terminal = Terminal::default();
        let progress = Progress::on(terminal.clone(), Duration::from_secs(3600));
        progress.say("checking scarf.wale");
        drop(progress);
        assert_eq!(terminal.0.lock().expect("nobody panics").len(), 0);

        let progress = Progress::on(terminal.clone(), Duration::ZERO);
        progress.say("checking scarf.wale, 1 of 2 files");
        let begun = Instant::now();
        while !terminal.seen().contains("checking scarf.wale, 1 of 2 files (0s)") {
            assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", terminal.seen());
            std::thread::sleep(TICK / 4);
        }
        assert_eq!(progress.beside(Looking(terminal.clone())).write(b"row").ok(), Some(3));
        progress.say("x".repeat(500));
        while !terminal.seen().contains("xxx") {
            assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", terminal.seen());
            std::thread::sleep(TICK / 4);
        }
        assert!(terminal.seen().len() < 80, "it fits on one line");
        drop(progress);
        assert_eq!(terminal.seen(), "", "nothing is left behind");
    }
}
