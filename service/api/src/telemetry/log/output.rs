//! Where the log's lines go: those of a few milliseconds together. A call of the kernel for each, behind a lock that all workers wait for,
//! took as long as a tenth of a comparison.
//!
//! Warnings and errors, and what waits before them, are written at once; the rest is written when the process ends, however it is told to.
//! Only what ends it without a word (SIGKILL, no memory left) loses the lines of the last [`PAUSE`].

use std::io::{self, BufWriter, Stdout, Write};
use std::sync::{LazyLock, Mutex, MutexGuard, PoisonError};
use std::thread::{self, Thread};
use std::time::Duration;

use tracing::{Level, Metadata};
use tracing_subscriber::fmt::MakeWriter;

/// How long a line waits for others.
const PAUSE: Duration = Duration::from_millis(10);

/// How many bytes of lines wait at most: more are written at once, by whoever logs.
const MOST_BYTES: usize = 64 * 1024;

static WAITING: LazyLock<Mutex<BufWriter<Stdout>>> =
    LazyLock::new(|| Mutex::new(BufWriter::with_capacity(MOST_BYTES, io::stdout())));

fn waiting() -> MutexGuard<'static, BufWriter<Stdout>> {
    WAITING.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Writes what waits.
pub fn flush() {
    // There is nowhere to say that the log cannot be written.
    let _ = waiting().flush();
}

/// Takes lines, and has a thread write them.
pub struct Output {
    writer: Thread,
}

impl Output {
    /// Starts the thread that writes. It sleeps while nothing is logged.
    pub fn start() -> io::Result<Self> {
        let thread = thread::Builder::new().name("log".to_owned()).spawn(|| {
            loop {
                thread::park();
                thread::sleep(PAUSE);
                flush();
            }
        })?;
        Ok(Self { writer: thread.thread().clone() })
    }
}

impl<'o> MakeWriter<'o> for Output {
    type Writer = Line<'o>;

    fn make_writer(&'o self) -> Line<'o> {
        Line { waiting: waiting(), writer: &self.writer, at_once: true }
    }

    fn make_writer_for(&'o self, metadata: &Metadata<'_>) -> Line<'o> {
        Line { at_once: *metadata.level() <= Level::WARN, ..self.make_writer() }
    }
}

/// Takes one line.
pub struct Line<'o> {
    waiting: MutexGuard<'static, BufWriter<Stdout>>,
    writer: &'o Thread,
    at_once: bool,
}

impl Write for Line<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let taken = self.waiting.write(bytes)?;
        if self.at_once {
            self.waiting.flush()?;
        } else {
            // No call of the kernel while the thread is awake.
            self.writer.unpark();
        }
        Ok(taken)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.waiting.flush()
    }
}
