//! When requests are due: an open loop has its times before it begins, whatever the service does.

use std::time::Duration;

/// Arrivals at a rate that goes evenly from one figure to another.
#[derive(Clone, Copy, Debug)]
pub struct Arrivals {
    /// Requests a second at the start.
    from: f64,
    /// Requests a second at the end.
    to: f64,
    seconds: f64,
    next: u64,
}

impl Arrivals {
    /// Arrivals over so many seconds.
    pub fn over(seconds: f64, from: f64, to: f64) -> Self {
        Self { from, to, seconds, next: 0 }
    }

    /// When the request of this number is due, from nought: where the area under the rate has come to the number.
    fn due(self, number: u64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "no run has so many requests")]
        let number = number as f64;
        let slope = (self.to - self.from) / self.seconds;
        if slope.abs() < 1e-9 {
            return number / self.from;
        }
        let root = (self.from * self.from + 2.0 * slope * number).max(0.0).sqrt();
        (root - self.from) / slope
    }

    /// How many there are in all.
    fn total(self) -> u64 {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a number of requests")]
        let total = ((self.from + self.to) / 2.0 * self.seconds).floor() as u64;
        total
    }
}

impl Iterator for Arrivals {
    type Item = Duration;

    fn next(&mut self) -> Option<Duration> {
        if self.next >= self.total() {
            return None;
        }
        let due = self.due(self.next);
        self.next += 1;
        Some(Duration::from_secs_f64(due.max(0.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::Arrivals;

    #[test]
    fn an_even_rate_has_even_gaps() {
        let due: Vec<u128> = Arrivals::over(1.0, 4.0, 4.0).map(|due| due.as_millis()).collect();
        assert_eq!(due, [0, 250, 500, 750]);
    }

    #[test]
    fn a_rising_rate_comes_to_as_many_as_its_mean() {
        let due: Vec<f64> = Arrivals::over(10.0, 10.0, 30.0).map(|due| due.as_secs_f64()).collect();
        assert_eq!(due.len(), 200);
        assert!(due.is_sorted() && due.iter().all(|due| (0.0..10.0).contains(due)));
        let first_half = due.iter().filter(|due| **due < 5.0).count();
        assert_eq!(first_half, 75, "10 to 20 a second over five seconds");
    }

    #[test]
    fn a_falling_rate_may_end_at_nought() {
        let due: Vec<f64> = Arrivals::over(10.0, 20.0, 0.0).map(|due| due.as_secs_f64()).collect();
        assert_eq!(due.len(), 100);
        assert!(due.is_sorted() && due.iter().all(|due| due.is_finite() && *due < 10.0));
    }
}
