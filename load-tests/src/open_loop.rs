//! An open loop: requests go out when they are due, whether or not earlier ones are answered, and the latency of each is counted from when
//! it was due. So a service that falls behind shows it, and its callers' waiting is not left out.

use std::net::SocketAddr;
use std::sync::Arc;
use std::time::{Duration, Instant};

use tokio::sync::{Mutex, mpsc};

use crate::arrivals::Arrivals;
use crate::client::{Connection, Prepared};
use crate::histogram::Latencies;

/// A request of a mix, and how often it is sent.
#[derive(Clone, Debug)]
pub struct Kind {
    pub request: Prepared,
    /// The status that is right for it.
    pub expected: u16,
    /// How many of so many requests are of it; the weights of a mix are small whole numbers.
    pub weight: u32,
}

/// How the requests of a kind came out.
#[derive(Clone, Debug)]
pub struct Outcome {
    pub offered: u64,
    /// Answered with the status expected.
    pub answered: u64,
    /// Answered with another status.
    pub unexpected: u64,
    /// Not answered: the connection failed.
    pub failed: u64,
    pub latencies: Latencies,
}

impl Outcome {
    fn new() -> Self {
        Self { offered: 0, answered: 0, unexpected: 0, failed: 0, latencies: Latencies::new() }
    }

    /// Adds the outcome of another.
    pub fn join(&mut self, other: &Self) {
        self.offered += other.offered;
        self.answered += other.answered;
        self.unexpected += other.unexpected;
        self.failed += other.failed;
        self.latencies.join(&other.latencies);
    }
}

/// What came of an open loop.
#[derive(Clone, Debug)]
pub struct Outcomes {
    /// Of each kind, in the order of the mix.
    pub kinds: Vec<Outcome>,
    /// How long it took until the last answer.
    pub took: Duration,
    /// How late the generator itself was.
    pub late: Latencies,
}

impl Outcomes {
    /// All kinds together.
    pub fn all(&self) -> Outcome {
        let mut all = Outcome::new();
        for kind in &self.kinds {
            all.join(kind);
        }
        all
    }
}

/// A request that is due.
#[derive(Clone, Copy)]
struct Due {
    at: Instant,
    kind: usize,
}

/// Sends the requests of a mix as they are due, over so many connections.
pub async fn drive(
    address: SocketAddr,
    kinds: &[Kind],
    connections: usize,
    arrivals: Arrivals,
) -> Result<Outcomes, anyhow::Error> {
    let (send, receive) = mpsc::unbounded_channel::<Due>();
    let receive = Arc::new(Mutex::new(receive));
    let shared: Arc<[Kind]> = kinds.into();
    let tasks: Vec<_> = (0..connections)
        .map(|_| tokio::spawn(connection(address, Arc::clone(&shared), Arc::clone(&receive))))
        .collect();
    let turns = turns(kinds);
    let began = Instant::now();
    // A thread of its own: the timers of an executor are a millisecond coarse.
    let dispatcher = std::thread::spawn(move || {
        let mut late = Latencies::new();
        for (due, kind) in arrivals.zip(turns.iter().copied().cycle()) {
            let at = began + due;
            std::thread::sleep(at.saturating_duration_since(Instant::now()));
            late.add(at.elapsed());
            if send.send(Due { at, kind }).is_err() {
                break;
            }
        }
        late
    });
    let mut outcomes: Vec<Outcome> = kinds.iter().map(|_| Outcome::new()).collect();
    for task in tasks {
        for (sum, outcome) in outcomes.iter_mut().zip(task.await?) {
            sum.join(&outcome);
        }
    }
    let took = began.elapsed();
    let late = dispatcher.join().map_err(|_| anyhow::anyhow!("the dispatcher failed"))?;
    Ok(Outcomes { kinds: outcomes, took, late })
}

/// Kinds in the order in which they are sent, over and over: each spread evenly by its weight.
fn turns(kinds: &[Kind]) -> Vec<usize> {
    let mut turns: Vec<(f64, usize)> = Vec::new();
    for (kind, of) in kinds.iter().enumerate() {
        let gap = 1.0 / f64::from(of.weight);
        turns.extend((0..of.weight).map(|turn| ((f64::from(turn) + 0.5) * gap, kind)));
    }
    turns.sort_by(|one, other| one.0.total_cmp(&other.0));
    turns.into_iter().map(|(_, kind)| kind).collect()
}

async fn connection(
    address: SocketAddr,
    kinds: Arc<[Kind]>,
    receive: Arc<Mutex<mpsc::UnboundedReceiver<Due>>>,
) -> Vec<Outcome> {
    let mut outcomes: Vec<Outcome> = kinds.iter().map(|_| Outcome::new()).collect();
    let mut connection = Connection::to(address);
    loop {
        let due = receive.lock().await.recv().await;
        let Some(Due { at, kind }) = due else { return outcomes };
        let (Some(outcome), Some(kind)) = (outcomes.get_mut(kind), kinds.get(kind)) else { continue };
        outcome.offered += 1;
        match connection.send(&kind.request).await {
            Ok((status, _)) if status.as_u16() == kind.expected => outcome.answered += 1,
            Ok(_) => outcome.unexpected += 1,
            Err(_) => outcome.failed += 1,
        }
        outcome.latencies.add(at.elapsed());
    }
}

#[cfg(test)]
mod tests {
    use super::{Kind, turns};
    use crate::client::Prepared;

    #[test]
    fn kinds_take_turns_by_their_weights() {
        let kind = |weight| Kind { request: Prepared::get("/"), expected: 200, weight };
        assert_eq!(turns(&[kind(1)]), [0]);
        assert_eq!(turns(&[kind(4), kind(2)]), [0, 1, 0, 0, 1, 0]);
    }
}
