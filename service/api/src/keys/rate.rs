//! How often each caller may ask: a bucket of requests for each name, filled again at a steady rate.
//!
//! What is kept of a bucket is the moment at which it will be full. A request moves it on by the time that one takes to come back.

use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

/// The buckets of all callers.
#[derive(Debug)]
pub(super) struct Rates {
    began: Instant,
    /// The time in which one request comes back.
    each: Duration,
    /// The time in which an empty bucket is full.
    whole: Duration,
    /// When each bucket is full, from the beginning; those that are full already need not stand here.
    full: Mutex<HashMap<Arc<str>, Duration>>,
}

impl Rates {
    pub(super) fn new(per_minute: u32, burst: u32, began: Instant) -> Self {
        let each = Duration::from_secs(60) / per_minute.max(1);
        Self { began, each, whole: each * burst.max(1), full: Mutex::default() }
    }

    /// Takes a request out of a caller's bucket.
    ///
    /// # Errors
    /// The time until there is one, where there is none.
    pub(super) fn take(&self, name: &Arc<str>, at: Instant) -> Result<(), Duration> {
        let now = at.saturating_duration_since(self.began);
        let mut full = self.full.lock().unwrap_or_else(PoisonError::into_inner);
        let full_after = full.get(name).map_or(now, |full| now.max(*full)) + self.each;
        match full_after.checked_sub(now + self.whole) {
            None | Some(Duration::ZERO) => {
                full.insert(Arc::clone(name), full_after);
                Ok(())
            }
            Some(wait) => Err(wait),
        }
    }

    /// Forgets the callers that there are no more.
    pub(super) fn keep_only(&self, names: &BTreeSet<Arc<str>>) {
        self.full.lock().unwrap_or_else(PoisonError::into_inner).retain(|name, _| names.contains(name));
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;
    use std::sync::Arc;
    use std::time::{Duration, Instant};

    use super::Rates;

    #[test]
    fn a_bucket_empties_and_fills_again() {
        let began = Instant::now();
        let at = |seconds: u64| began + Duration::from_secs(seconds);
        // One comes back every ten seconds, and three are in the bucket.
        let rates = Rates::new(6, 3, began);
        let (a, b): (Arc<str>, Arc<str>) = (Arc::from("a"), Arc::from("b"));
        for _ in 0..3 {
            assert_eq!(rates.take(&a, at(100)), Ok(()));
        }
        assert_eq!(rates.take(&a, at(100)), Err(Duration::from_secs(10)));
        assert_eq!(rates.take(&a, at(107)), Err(Duration::from_secs(3)), "to be turned away costs nothing");
        assert_eq!(rates.take(&b, at(107)), Ok(()), "another caller has a bucket of its own");
        assert_eq!(rates.take(&a, at(110)), Ok(()));
        assert_eq!(rates.take(&a, at(110)), Err(Duration::from_secs(10)));
        // However long it is left alone, it is full and no more.
        for _ in 0..3 {
            assert_eq!(rates.take(&a, at(10_000)), Ok(()));
        }
        assert_eq!(rates.take(&a, at(10_000)), Err(Duration::from_secs(10)));
        rates.keep_only(&BTreeSet::from([Arc::clone(&b)]));
        assert_eq!(rates.take(&a, at(10_000)), Ok(()), "nothing is kept of a caller that was taken out");
    }
}
