//! A sign of life on the error output while work takes long: what is being done, and for how long. It shows only on a
//! terminal, only after a while, and leaves nothing behind.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::{self, Write};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread::JoinHandle;
use std::time::Duration;

/// Work that is done sooner needs no sign.
const PATIENCE: Duration = Duration::from_millis(700);
const TICK: Duration = Duration::from_millis(120);

/// What is shown; taken away when it is dropped.
pub(crate) struct Progress {
    bar: ProgressBar,
    ends: Option<(mpsc::Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// Nothing is ever shown.
    pub(crate) fn none() -> Self {
        Self { bar: ProgressBar::hidden(), ends: None }
    }

    /// Shown on the error output, which must be a terminal.
    pub(crate) fn on_terminal() -> Self {
        Self::on(ProgressDrawTarget::stderr, PATIENCE)
    }

    fn on(target: impl FnOnce() -> ProgressDrawTarget + Send + 'static, patience: Duration) -> Self {
        let style = ProgressStyle::with_template("{spinner} {msg} ({elapsed})")
            .unwrap_or_else(|_| ProgressStyle::default_spinner());
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden()).with_style(style);
        let (sender, ended) = mpsc::channel();
        let shown = bar.clone();
        let thread = std::thread::spawn(move || {
            if ended.recv_timeout(patience) != Err(RecvTimeoutError::Timeout) {
                return;
            }
            shown.set_draw_target(target());
            while ended.recv_timeout(TICK) == Err(RecvTimeoutError::Timeout) {
                if !shown.message().is_empty() {
                    shown.tick();
                }
            }
            shown.finish_and_clear();
        });
        Self { bar, ends: Some((sender, thread)) }
    }

    /// Says what is being done.
    pub(crate) fn say(&self, words: impl Into<String>) {
        if self.ends.is_some() {
            self.bar.set_message(words.into());
        }
    }

    /// A writer to the same terminal: the sign is taken away while it writes.
    pub(crate) fn beside<W: Write>(&self, writer: W) -> Beside<W> {
        Beside { bar: self.bar.clone(), writer }
    }
}

/// Writes where a sign may stand.
pub(crate) struct Beside<W> {
    bar: ProgressBar,
    writer: W,
}

impl<W: Write> Write for Beside<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.bar.suspend(|| self.writer.write(bytes))
    }

    fn flush(&mut self) -> io::Result<()> {
        self.bar.suspend(|| self.writer.flush())
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
    use indicatif::InMemoryTerm;

    fn on(term: &InMemoryTerm, patience: Duration) -> Progress {
        let term = term.clone();
        Progress::on(move || ProgressDrawTarget::term_like(Box::new(term)), patience)
    }

    #[test]
    fn short_work_shows_nothing_and_long_work_says_what_it_is() {
        let term = InMemoryTerm::new(5, 60);
        let progress = on(&term, Duration::from_secs(3600));
        progress.say("checking scarf.wale");
        drop(progress);
        assert_eq!(term.contents(), "");

        let progress = on(&term, Duration::ZERO);
        progress.say("checking scarf.wale, 1 of 2 files");
        let begun = std::time::Instant::now();
        while !term.contents().contains("checking scarf.wale, 1 of 2 files (") {
            assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", term.contents());
            std::thread::sleep(TICK);
        }
        struct Looking(InMemoryTerm);
        impl Write for Looking {
            fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
                assert_eq!(self.0.contents(), "", "nothing stands in the way of other lines");
                Ok(bytes.len())
            }
            fn flush(&mut self) -> io::Result<()> {
                Ok(())
            }
        }
        assert_eq!(progress.beside(Looking(term.clone())).write(b"row").ok(), Some(3));
        drop(progress);
        assert_eq!(term.contents(), "", "nothing is left behind");
    }
}
