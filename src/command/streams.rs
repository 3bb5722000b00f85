//! The streams of a run, handed in so that a command can be tried without a process.

use super::progress::Progress;
use std::io::{self, ErrorKind, Read, Write};
use wale::tell::Screen;

/// Where a command reads and writes.
pub(crate) struct Streams<'a> {
    /// Standard input.
    pub(crate) input: &'a mut dyn Read,
    /// What was asked for.
    pub(crate) output: &'a mut dyn Output,
    /// Anything said beside it.
    pub(crate) report: &'a mut dyn Write,
    /// Where `output` is read.
    pub(crate) output_screen: Screen,
    /// Where `report` is read.
    pub(crate) report_screen: Screen,
    /// What is said of long work.
    pub(crate) progress: Progress,
    /// What was done to files so far, each in a sentence: who cannot be shown the output has to know it all the same.
    pub(crate) done: Vec<String>,
}

/// What a command writes to. Who writes for long asks from time to time whether anybody still reads.
pub(crate) trait Output: Write {
    /// Whether the reader has left, so that all further writing is for nobody.
    fn is_left(&self) -> bool;
}

impl<W: Write> Output for Patient<W> {
    fn is_left(&self) -> bool {
        self.left
    }
}

#[cfg(test)]
impl Output for Vec<u8> {
    fn is_left(&self) -> bool {
        false
    }
}

/// A writer that goes on in silence once its reader has left, so that the run still ends with its own exit code.
pub(crate) struct Patient<W> {
    writer: W,
    left: bool,
}

impl<W: Write> Patient<W> {
    /// A patient `writer`.
    pub(crate) const fn new(writer: W) -> Self {
        Self { writer, left: false }
    }

    fn patiently<T>(&mut self, silent: T, act: impl FnOnce(&mut W) -> io::Result<T>) -> io::Result<T> {
        if self.left {
            return Ok(silent);
        }
        act(&mut self.writer).or_else(|error| {
            if error.kind() != ErrorKind::BrokenPipe {
                return Err(error);
            }
            self.left = true;
            Ok(silent)
        })
    }
}

impl<W: Write> Write for Patient<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.patiently(bytes.len(), |writer| writer.write(bytes))
    }

    fn flush(&mut self) -> io::Result<()> {
        self.patiently((), Write::flush)
    }
}

/// Writes with `write`, which ends early and without a word once the reader of `output` has left.
///
/// # Errors
/// Those of `write`, but not that the reader has left.
pub(crate) fn until_left(
    output: &mut dyn Output,
    write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
) -> io::Result<()> {
    struct Impatient<'o>(&'o mut dyn Output);
    impl Write for Impatient<'_> {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            let written = self.0.write(bytes)?;
            if self.0.is_left() { Err(ErrorKind::BrokenPipe.into()) } else { Ok(written) }
        }

        fn flush(&mut self) -> io::Result<()> {
            self.0.flush()
        }
    }
    match write(&mut Impatient(output)) {
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Ok(()),
        result => result,
    }
}

/// Runs a command on streams in memory, without colour. Gives its outcome, its output and its report.
#[cfg(test)]
pub(crate) fn tried(
    input: &str,
    command: impl FnOnce(&mut Streams<'_>) -> io::Result<super::Outcome>,
) -> (super::Outcome, String, String) {
    let (mut output, mut report) = (Vec::new(), Vec::new());
    let outcome = command(&mut Streams {
        input: &mut input.as_bytes(),
        output: &mut output,
        report: &mut report,
        output_screen: Screen::default(),
        report_screen: Screen::default(),
        progress: Progress::none(),
        done: Vec::new(),
    })
    .expect("writing to memory");
    let text = |bytes| String::from_utf8(bytes).expect("the commands write UTF-8");
    (outcome, text(output), text(report))
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Failing(ErrorKind);

    impl Write for Failing {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(self.0.into())
        }

        fn flush(&mut self) -> io::Result<()> {
            Err(self.0.into())
        }
    }

    #[test]
    fn only_a_reader_that_left_is_passed_over() {
        let mut gone = Patient::new(Failing(ErrorKind::BrokenPipe));
        assert_eq!(gone.write(b"row").ok(), Some(3));
        assert!(gone.flush().is_ok());
        let mut full = Patient::new(Failing(ErrorKind::StorageFull));
        assert!(full.write(b"row").is_err());
        assert!(full.flush().is_err());
    }

    #[test]
    fn long_writing_ends_when_the_reader_has_left() {
        let endless = |out: &mut dyn Write| -> io::Result<()> {
            loop {
                out.write_all(b"row\n")?;
            }
        };
        assert!(until_left(&mut Patient::new(Failing(ErrorKind::BrokenPipe)), endless).is_ok());
        let full = until_left(&mut Patient::new(Failing(ErrorKind::StorageFull)), endless);
        assert_eq!(full.map_err(|error| error.kind()), Err(ErrorKind::StorageFull));
    }
}
