//! Buffers for answers, used again and again: the pages of a new one are fetched from the kernel, and the allocator keeps what was freed
//! apart for each thread.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use actix_web::web::Bytes;

/// Buffers that are not in use.
#[derive(Clone, Debug)]
pub struct Buffers {
    idle: Arc<Mutex<Vec<Vec<u8>>>>,
    /// The most that are kept, and the most room of each.
    most: usize,
    most_bytes: usize,
}

impl Buffers {
    /// None yet. Of those that come back so many are kept at most, and none with more room than this.
    pub fn keeping(most: usize, most_bytes: usize) -> Self {
        Self { idle: Arc::default(), most, most_bytes }
    }

    /// An empty buffer: one that has come back, or a new one with room for `about` so many bytes.
    pub fn take(&self, about: usize) -> Vec<u8> {
        self.idle().pop().unwrap_or_else(|| Vec::with_capacity(about))
    }

    /// What is in a buffer, which comes back when that is no longer needed.
    pub fn lend(&self, buffer: Vec<u8>) -> Bytes {
        Bytes::from_owner(Lent { buffer, home: self.clone() })
    }

    fn idle(&self) -> MutexGuard<'_, Vec<Vec<u8>>> {
        self.idle.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

struct Lent {
    buffer: Vec<u8>,
    home: Buffers,
}

impl AsRef<[u8]> for Lent {
    fn as_ref(&self) -> &[u8] {
        &self.buffer
    }
}

impl Drop for Lent {
    fn drop(&mut self) {
        let mut buffer = std::mem::take(&mut self.buffer);
        if buffer.capacity() <= self.home.most_bytes {
            buffer.clear();
            let mut idle = self.home.idle();
            if idle.len() < self.home.most {
                idle.push(buffer);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Buffers;

    #[test]
    fn a_buffer_comes_back_empty_when_its_bytes_are_done_with() {
        let buffers = Buffers::keeping(2, 1024);
        let mut buffer = buffers.take(100);
        buffer.extend_from_slice(b"an answer");
        let room = buffer.capacity();
        let bytes = buffers.lend(buffer);
        let again = bytes.clone();
        drop(bytes);
        assert_eq!((again.as_ref(), buffers.take(0).capacity()), (&b"an answer"[..], 0), "still in use");
        drop(again);
        let back = buffers.take(0);
        assert_eq!((back.len(), back.capacity()), (0, room));
    }

    #[test]
    fn no_more_are_kept_than_may_be_and_none_that_has_grown_too_large() {
        let buffers = Buffers::keeping(2, 1024);
        for room in [1025, 1024, 1023, 1022] {
            drop(buffers.lend(Vec::with_capacity(room)));
        }
        assert_eq!([0; 3].map(|about| buffers.take(about).capacity()), [1023, 1024, 0]);
    }
}
