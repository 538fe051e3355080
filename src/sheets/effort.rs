//! How many work steps each stage of the search gets.

use crate::model::Effort;

/// Work steps of each stage. A step takes about ten nanoseconds of one core in the search, one in the tables of the bound.
#[derive(Clone, Copy, Debug)]
pub(super) struct Steps {
    /// Quick rules; the first pass is always finished.
    pub(super) multistart: u64,
    /// Before the linear bound.
    pub(super) first_search: u64,
    /// The linear bound and the plan made from it.
    pub(super) linear: u64,
    /// The same where sizes come twice or three times on average.
    pub(super) linear_some: u64,
    /// The same where the tables of the bound are large.
    pub(super) linear_large: u64,
    /// The same where they come more often: there it decides.
    pub(super) linear_copies: u64,
    /// More for lists of nearly full sheets, once one of them might hold a plan; the search after it gets so many fewer, but no less
    /// than half of its own.
    pub(super) listed: u64,
    /// Plans made from it, at most; where sizes come twice on average or tables are large they get all that it leaves.
    pub(super) dives: u64,
    /// What the plans made from it leave.
    pub(super) rest: u64,
    /// The same where sizes come twice on average, or more.
    pub(super) rest_some: u64,
    /// The same where the tables are large.
    pub(super) rest_large: u64,
    /// After it.
    pub(super) search: u64,
    /// By groups, for large jobs.
    pub(super) groups: u64,
    /// Second aims, times the square of the number of pieces.
    pub(super) second_square: u64,
    /// Second aims at most.
    pub(super) second_most: u64,
}

const QUICK: Steps = Steps {
    multistart: 10_000_000,
    first_search: 8_000_000,
    linear: 20_000_000,
    linear_some: 20_000_000,
    linear_large: 30_000_000,
    linear_copies: 50_000_000,
    listed: 0,
    dives: u64::MAX,
    rest: 10_000_000,
    rest_some: 10_000_000,
    rest_large: 10_000_000,
    search: 4_000_000,
    groups: 50_000_000,
    second_square: 2_500,
    second_most: 15_000_000,
};
const NORMAL: Steps = Steps {
    multistart: 40_000_000,
    first_search: 30_000_000,
    linear: 100_000_000,
    linear_some: 300_000_000,
    linear_large: 1_200_000_000,
    linear_copies: 1_200_000_000,
    listed: 60_000_000,
    dives: 24_000_000,
    rest: 24_000_000,
    rest_some: 240_000_000,
    rest_large: 600_000_000,
    search: 80_000_000,
    groups: 160_000_000,
    second_square: 12_000,
    second_most: 80_000_000,
};
const THOROUGH: Steps = Steps {
    multistart: 80_000_000,
    first_search: 100_000_000,
    linear: 300_000_000,
    linear_some: 600_000_000,
    linear_large: 2_400_000_000,
    linear_copies: 2_400_000_000,
    listed: 300_000_000,
    dives: u64::MAX,
    rest: 150_000_000,
    rest_some: 600_000_000,
    rest_large: 1_200_000_000,
    search: 800_000_000,
    groups: 2_000_000_000,
    second_square: 30_000,
    second_most: 200_000_000,
};

impl Steps {
    /// Those of an effort.
    pub(super) const fn of(effort: Effort) -> Self {
        match effort {
            Effort::Quick => QUICK,
            Effort::Normal => NORMAL,
            Effort::Thorough => THOROUGH,
            Effort::About(steps) => Self {
                second_square: QUICK.second_square,
                second_most: steps / 8,
                ..Self::about(steps)
            },
        }
    }

    /// About so many in all: for a question that is asked many times over.
    pub(super) const fn about(total: u64) -> Self {
        Self {
            multistart: total / 8,
            first_search: total / 4,
            linear: total / 4,
            linear_some: total / 4,
            linear_large: total / 3,
            linear_copies: total / 2,
            listed: 0,
            dives: u64::MAX,
            rest: total / 8,
            rest_some: total / 8,
            rest_large: total / 8,
            search: total / 8,
            groups: total / 4,
            second_square: 0,
            second_most: 0,
        }
    }
}
