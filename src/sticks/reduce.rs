//! The task in whole reduced numbers: a kerf added to each piece and each stick, pieces of one size gathered.
//!
//! Adding one kerf to each side makes cutting with a kerf the same as packing without one, exactly: also for a piece flush
//! with the end and for a last gap narrower than the blade.

use crate::model::task::StickTask;

/// A way of coming by sticks of one length: free ones up to a number, or bought ones up to a number.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Class {
    /// Index into `StickTask::kinds`.
    pub kind: usize,
    /// Length plus kerf in reduced units.
    pub cap: i64,
    /// True if it must be bought.
    pub bought: bool,
    /// What one costs here; 0 for a free one.
    pub cost: i64,
    /// How many there are; `u32::MAX` = any number.
    pub limit: u32,
}

/// What one of a size stands for: a piece, or all pieces of a group that must come off one stick.
pub(super) type Member = Vec<(usize, u32)>;

/// Things of one reduced size.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Size {
    /// Length plus kerf.
    pub long: i64,
    /// How many.
    pub count: u32,
    /// What they are, with counts that sum to `count`.
    pub of: Vec<(Member, u32)>,
}

/// A whole task, reduced.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Reduced {
    /// Free classes first, then bought ones by cost for their length.
    pub classes: Vec<Class>,
    /// Longest first. Only what fits some class.
    pub sizes: Vec<Size>,
    /// What fits no class, as (piece, count).
    pub misfits: Vec<(usize, u32)>,
    /// True if every length that can be bought has a price.
    pub priced: bool,
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { gcd(b, a % b) }
}

/// Costs of one of each kind: its price, or without prices its length in hundredths of the longest.
pub(super) fn kind_costs(task: &StickTask) -> (Vec<i64>, bool) {
    let priced = task
        .kinds
        .iter()
        .all(|k| k.cost.is_some() || k.at_most == Some(0));
    let longest = task
        .kinds
        .iter()
        .map(|k| k.length.units())
        .max()
        .unwrap_or(1)
        .max(1);
    let costs = task
        .kinds
        .iter()
        .map(|k| match k.cost {
            Some(c) if priced => c.0.max(0),
            _ => ((k.length.units() * 100 + longest / 2) / longest).max(1),
        })
        .collect();
    (costs, priced)
}

impl Reduced {
    /// Reduces a task.
    pub(super) fn new(task: &StickTask) -> Self {
        let kerf = task.kerf.units();
        let (costs, priced) = kind_costs(task);
        let mut classes = Vec::new();
        for (kind, k) in task.kinds.iter().enumerate() {
            let cap = k.length.units() + kerf;
            if k.have > 0 {
                let limit = k.have;
                classes.push(Class {
                    kind,
                    cap,
                    bought: false,
                    cost: 0,
                    limit,
                });
            }
            let limit = k.at_most.unwrap_or(u32::MAX);
            if limit > 0 {
                classes.push(Class {
                    kind,
                    cap,
                    bought: true,
                    cost: costs[kind],
                    limit,
                });
            }
        }
        let most = classes.iter().map(|c| c.cap).max().unwrap_or(0);
        let mut sizes: Vec<Size> = Vec::new();
        let mut misfits = Vec::new();
        let mut add = |size: i64, member: Member, count: u32| {
            if size > most {
                misfits.extend(member.iter().map(|(p, n)| (*p, n * count)));
            } else if let Some(s) = sizes.iter_mut().find(|s| s.long == size) {
                s.count += count;
                s.of.push((member, count));
            } else {
                sizes.push(Size {
                    long: size,
                    count,
                    of: vec![(member, count)],
                });
            }
        };
        let mut groups: Vec<u32> = Vec::new();
        for (i, p) in task.pieces.iter().enumerate().filter(|(_, p)| p.count > 0) {
            match p.together {
                None => add(p.length.units() + kerf, vec![(i, 1)], p.count),
                Some(g) if !groups.contains(&g) => {
                    groups.push(g);
                    let member: Member = (task.pieces.iter().enumerate())
                        .filter(|(_, q)| q.together == Some(g) && q.count > 0)
                        .map(|(j, q)| (j, q.count))
                        .collect();
                    let sizes = member
                        .iter()
                        .map(|(j, n)| (task.pieces[*j].length.units() + kerf) * i64::from(*n));
                    add(sizes.sum(), member.clone(), 1);
                }
                Some(_) => {}
            }
        }
        // Every filled length is a multiple of the sizes' common divisor, so a stick may be rounded down to one: exact.
        let unit = sizes.iter().fold(0, |g, s| gcd(g, s.long)).max(1);
        for s in &mut sizes {
            s.long /= unit;
        }
        for c in &mut classes {
            c.cap /= unit;
        }
        let least = sizes.iter().map(|s| s.long).min().unwrap_or(0);
        classes.retain(|c| c.cap >= least && least > 0);
        sizes.sort_by_key(|s| std::cmp::Reverse(s.long));
        // Free first, then what costs least for its length; exact by cross-multiplying.
        classes.sort_by(|a, b| {
            (i128::from(a.cost) * i128::from(b.cap))
                .cmp(&(i128::from(b.cost) * i128::from(a.cap)))
                .then(a.bought.cmp(&b.bought))
                .then(b.cap.cmp(&a.cap))
                .then(a.kind.cmp(&b.kind))
        });
        Self {
            classes,
            sizes,
            misfits,
            priced,
        }
    }

    /// How many of each class there are.
    pub(super) fn limits(&self) -> Vec<u32> {
        self.classes.iter().map(|c| c.limit).collect()
    }

    /// How many of each size there are.
    pub(super) fn counts(&self) -> Vec<u32> {
        self.sizes.iter().map(|s| s.count).collect()
    }
}

/// A set of things for one stick: (index into `sizes`, copies), copies above 0.
pub(super) type Pattern = Vec<(usize, u32)>;

/// Sticks cut alike.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Used {
    /// Index into `classes`.
    pub class: usize,
    /// What is cut from each.
    pub pattern: Pattern,
    /// How many.
    pub times: u32,
}

/// A whole plan in reduced terms.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Filling {
    /// Sticks.
    pub used: Vec<Used>,
    /// How many of each size found no place.
    pub missing: Vec<u32>,
}

impl Filling {
    /// What is bought costs.
    pub(super) fn cost(&self, r: &Reduced) -> i64 {
        self.used
            .iter()
            .map(|u| r.classes[u.class].cost * i64::from(u.times))
            .sum()
    }
    /// The order of fillings: everything placed first, then cost, then sticks opened.
    pub(super) fn rank(&self, r: &Reduced) -> (i64, i64, u32) {
        let missing = self
            .missing
            .iter()
            .zip(&r.sizes)
            .map(|(m, s)| i64::from(*m) * s.long)
            .sum();
        (
            missing,
            self.cost(r),
            self.used.iter().map(|u| u.times).sum(),
        )
    }
}
