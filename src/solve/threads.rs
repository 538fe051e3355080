//! The only place below the command line that starts threads. Jobs are handed out in order and their results come back
//! in order, so the number of threads never changes an answer, only how long it takes.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Does all jobs on up to `threads` threads and gives the results in the order of the jobs.
pub fn map<J: Send, R: Send>(threads: usize, jobs: Vec<J>, work: impl Fn(J) -> R + Sync) -> Vec<R> {
    let count = jobs.len();
    if threads <= 1 || count <= 1 {
        return jobs.into_iter().map(work).collect();
    }
    let jobs: Vec<Mutex<Option<J>>> = jobs.into_iter().map(|j| Mutex::new(Some(j))).collect();
    let results: Vec<Mutex<Option<R>>> = (0..count).map(|_| Mutex::new(None)).collect();
    let next = AtomicUsize::new(0);
    let each = || {
        loop {
            let i = next.fetch_add(1, Ordering::Relaxed);
            if i >= count {
                break;
            }
            let job = jobs[i]
                .lock()
                .expect("a job is taken before any work on it can panic")
                .take();
            if let Some(job) = job {
                let result = work(job);
                *results[i].lock().expect("each result is written once") = Some(result);
            }
        }
    };
    std::thread::scope(|scope| {
        for _ in 1..threads.min(count) {
            scope.spawn(each);
        }
        each();
    });
    results
        .into_iter()
        .map(|r| {
            r.into_inner()
                .expect("each result is written once")
                .expect("every job was done before the scope ended")
        })
        .collect()
}

/// Does two things, at the same time if there are two threads.
pub fn both<A: Send, B: Send>(
    threads: usize,
    a: impl FnOnce() -> A + Send,
    b: impl FnOnce() -> B + Send,
) -> (A, B) {
    if threads <= 1 {
        return (a(), b());
    }
    std::thread::scope(|scope| {
        let other = scope.spawn(b);
        let first = a();
        match other.join() {
            Ok(second) => (first, second),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_keep_the_order_of_the_jobs() {
        let square = |n: u64| n * n;
        let one = map(1, (0..50).collect(), square);
        assert_eq!(one, map(4, (0..50).collect(), square));
        assert_eq!(one[7], 49);
        assert_eq!(both(2, || 1, || 2), (1, 2));
    }
}
