//! Buffers for answers, used again and again: a new one of a megabyte would be grown, and its pages fetched from the kernel, for every
//! thirty lines, and the allocator keeps what was freed apart for each thread.

use std::sync::{Arc, Mutex, PoisonError};

use actix_web::web::Bytes;

/// The most room of a buffer that is kept.
const MOST_KEPT: usize = 4 * 1024 * 1024;

/// The buffers of one batch that are not in use. They go with the batch.
#[derive(Clone, Debug, Default)]
pub(super) struct Buffers(Arc<Mutex<Vec<Vec<u8>>>>);

impl Buffers {
    /// An empty buffer.
    pub fn take(&self) -> Vec<u8> {
        self.idle().pop().unwrap_or_default()
    }

    /// What is in a buffer, which comes back when that is no longer needed.
    pub fn lend(&self, buffer: Vec<u8>) -> Bytes {
        Bytes::from_owner(Lent { buffer, home: self.clone() })
    }

    fn idle(&self) -> std::sync::MutexGuard<'_, Vec<Vec<u8>>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
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
        if buffer.capacity() <= MOST_KEPT {
            buffer.clear();
            self.home.idle().push(buffer);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Buffers, MOST_KEPT};

    #[test]
    fn a_buffer_comes_back_empty_when_its_bytes_are_done_with() {
        let buffers = Buffers::default();
        let mut buffer = buffers.take();
        buffer.extend_from_slice(b"an answer");
        let room = buffer.capacity();
        let bytes = buffers.lend(buffer);
        let again = bytes.clone();
        drop(bytes);
        assert_eq!((again.as_ref(), buffers.take().capacity()), (&b"an answer"[..], 0), "still in use");
        drop(again);
        let back = buffers.take();
        assert_eq!((back.len(), back.capacity()), (0, room));
    }

    #[test]
    fn a_buffer_that_has_grown_too_large_is_not_kept() {
        let buffers = Buffers::default();
        drop(buffers.lend(Vec::with_capacity(MOST_KEPT)));
        drop(buffers.lend(Vec::with_capacity(MOST_KEPT + 1)));
        assert_eq!((buffers.take().capacity(), buffers.take().capacity()), (MOST_KEPT, 0));
    }
}
