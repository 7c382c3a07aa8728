//! Cases on all cores: each is caught when it panics, told when it breaks, and the program ended when it hangs or eats memory.

use crate::budget::{Budget, Stop};
use crate::schedule::Schedule;
use crate::target::{Answer, Judged, Target};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Mutex, MutexGuard, Once, PoisonError};
use std::time::{Duration, Instant};

/// A case that has not ended after so many times its limit never will, and no thread can be stopped from outside.
const HUNG: u32 = 5;

/// Resident memory at which the program is ended, bytes. A long run with its figure takes some hundred million.
const MOST_MEMORY: u64 = 2_000_000_000;

/// How often that is looked at.
const WATCH: Duration = Duration::from_millis(20);

/// How often a long run says where it is.
const REPORT: Duration = Duration::from_secs(60);

/// Breaches of one kind that are told in full.
const TOLD: usize = 2;

/// Kinds of breach after which there is no point in going on.
const MOST_KINDS: usize = 40;

thread_local! {
    /// Where and why the case on this thread panicked.
    static PANIC: RefCell<Option<String>> = const { RefCell::new(None) };
    static CAUGHT: RefCell<bool> = const { RefCell::new(false) };
}

/// A line that is seen without `--nocapture`.
pub(crate) fn say(text: &str) {
    let _ = writeln!(std::io::stderr(), "{text}");
}

/// A breach names the panic instead of printing it in the midst of others.
fn catch_quietly() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        let usual = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |info| {
            if CAUGHT.with_borrow(|caught| *caught) {
                PANIC.with_borrow_mut(|place| *place = Some(info.to_string().replace('\n', " ")));
            } else {
                usual(info);
            }
        }));
    });
}

/// What must hold of one input, which also is that it neither panics nor takes long.
pub(crate) fn judge(target: &Target, input: &str) -> Judged {
    catch_quietly();
    CAUGHT.with_borrow_mut(|caught| *caught = true);
    let since = Instant::now();
    let judged = catch_unwind(AssertUnwindSafe(|| (target.check)(input)));
    CAUGHT.with_borrow_mut(|caught| *caught = false);
    let taken = since.elapsed();
    match judged {
        Err(_) => Err(PANIC.with_borrow_mut(Option::take).unwrap_or_else(|| "a panic on another thread".to_owned())),
        Ok(Ok(_)) if taken > target.limit => Err(format!("it took {taken:.1?}, at most {:?} is allowed", target.limit)),
        Ok(judged) => judged,
    }
}

/// What a thread is at: what to tell of it, and since when.
type Work = Mutex<Option<(String, Instant, Duration)>>;

/// Runs work on some threads while their time and the memory are watched.
pub(crate) fn watched(threads: usize, work: impl Fn(&Bench<'_>) + Sync) {
    let benches: Vec<Work> = (0..threads).map(|_| Mutex::default()).collect();
    let done = AtomicBool::new(false);
    std::thread::scope(|scope| {
        let workers: Vec<_> = benches.iter().map(|bench| scope.spawn(|| work(&Bench(bench)))).collect();
        let watch = scope.spawn(|| {
            while !done.load(Ordering::Relaxed) {
                std::thread::sleep(WATCH);
                look(&benches);
            }
        });
        let ends: Vec<_> = workers.into_iter().map(|worker| worker.join()).collect();
        done.store(true, Ordering::Relaxed);
        watch.join().expect("looking on does not panic");
        assert!(ends.iter().all(Result::is_ok), "the fuzzer itself panicked");
    });
}

/// Where a thread says what it is at.
#[derive(Debug)]
pub(crate) struct Bench<'a>(&'a Work);

impl Bench<'_> {
    /// Judges an input; `told` says how it is found again should it never end.
    pub(crate) fn judge(&self, target: &Target, input: &str, told: impl FnOnce() -> String) -> Judged {
        *lock(self.0) = Some((told(), Instant::now(), target.limit));
        let judged = judge(target, input);
        *lock(self.0) = None;
        judged
    }
}

fn lock<T>(place: &Mutex<T>) -> MutexGuard<'_, T> {
    place.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Ends the program where a case hangs or the memory is gone.
fn look(benches: &[Work]) {
    let memory = resident().unwrap_or(0);
    for bench in benches {
        if let Some((told, since, limit)) = &*lock(bench) {
            let taken = since.elapsed();
            if taken > *limit * HUNG || memory > MOST_MEMORY {
                say(&format!("after {taken:.1?} with {} MB in use, no end of:\n{told}", memory / 1_000_000));
            }
        }
    }
    let hung =
        benches.iter().any(|b| lock(b).as_ref().is_some_and(|(_, since, limit)| since.elapsed() > *limit * HUNG));
    if hung || memory > MOST_MEMORY {
        std::process::exit(101);
    }
}

/// Resident memory, bytes; known where the system tells it in a file.
fn resident() -> Option<u64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?;
    line.trim().strip_suffix("kB")?.trim().parse::<u64>().ok().map(|kilobytes| 1024 * kilobytes)
}

/// What a whole run found.
#[derive(Debug, Default)]
pub(crate) struct Found {
    /// For each target: cases, of these taken, and the time they took.
    pub(crate) counts: Vec<(u64, u64, Duration)>,
    /// Breaches by kind: the first in full, and how many.
    pub(crate) breaches: BTreeMap<String, (String, usize)>,
}

/// Runs the cases that the budget allows; breaches are told at once, since a long run may never come to its end.
pub(crate) fn fuzz(targets: &[Target], budget: &Budget, tell: fn(&str)) -> Found {
    let schedule = Schedule::new(targets);
    let next = AtomicU64::new(0);
    let found = Mutex::new(Found { counts: vec![Default::default(); targets.len()], ..Found::default() });
    let (start, reported) = (Instant::now(), AtomicU64::new(1));
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    watched(threads, |bench| {
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            let over = match budget.stop {
                Stop::After(length) => start.elapsed() >= length,
                Stop::Cases(count) => number >= count,
            };
            if over || lock(&found).breaches.len() >= MOST_KINDS {
                return;
            }
            let (index, own) = schedule.case(number);
            one(&targets[index], index, (budget.seed, own), bench, &found, tell);
            let minutes = start.elapsed().as_secs() / REPORT.as_secs();
            if minutes >= reported.load(Ordering::Relaxed)
                && reported.fetch_max(minutes + 1, Ordering::Relaxed) <= minutes
            {
                say(&format!(
                    "fuzz: {number} cases after {minutes} min, {} kinds of breach",
                    lock(&found).breaches.len()
                ));
            }
        }
    });
    found.into_inner().unwrap_or_else(PoisonError::into_inner)
}

fn one(
    target: &Target,
    index: usize,
    (seed, number): (u64, u64),
    bench: &Bench<'_>,
    found: &Mutex<Found>,
    tell: fn(&str),
) {
    let since = Instant::now();
    let input = target.input(seed, number);
    let judged = bench.judge(target, &input, || told(target, seed, number, &input));
    let mut found = lock(found);
    let count = &mut found.counts[index];
    count.0 += 1;
    count.1 += u64::from(matches!(judged, Ok(Answer::Taken(_))));
    count.2 += since.elapsed();
    if let Err(breach) = judged {
        let full = format!("{breach}\n{}", told(target, seed, number, &input));
        let kind = format!("{} {}", target.name, kind(&breach));
        let entry = found.breaches.entry(kind).or_insert_with(|| (full.clone(), 0));
        entry.1 += 1;
        if entry.1 <= TOLD {
            tell(&format!("fuzz broke: {full}"));
        }
    }
}

/// The target, the input, and how just this case is run again.
fn told(target: &Target, seed: u64, number: u64, input: &str) -> String {
    format!(
        "QUIETSEAT_FUZZ_SEED={seed} QUIETSEAT_FUZZ_CASE={}:{number} cargo test --test fuzz nothing_breaks -- --nocapture\n\
         ---- input\n{}\n----",
        target.name,
        printable(input)
    )
}

/// An input as it can be shown on a terminal.
pub(crate) fn printable(input: &str) -> String {
    let shown = |c: char| if c.is_control() && c != '\n' { c.escape_debug().to_string() } else { c.to_string() };
    input.chars().map(shown).collect()
}

/// A breach without what differs from case to case: quotations, numbers, and what follows the first colon; where it panicked.
fn kind(breach: &str) -> String {
    let head = breach.split(": ").next().unwrap_or(breach);
    let unquoted: String = head.split('"').step_by(2).collect();
    let panicked = breach.starts_with("panicked");
    unquoted.chars().filter(|c| panicked || !c.is_ascii_digit()).collect()
}
