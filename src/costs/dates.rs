//! The date a route is done: her tasks in order on her days.
//!
//! Her days are Saturday and Sunday, half of `hours_a_weekend` each. A task starts when the one before it is done and dry and
//! the goods it uses are there. Waiting moves the date, never the hours. No clock: the start is the project's own date.

use crate::model::Hours;
use jiff::civil::{Date, Weekday};

/// One task of a route.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct TaskTime {
    /// Hours of work.
    pub hours: Hours,
    /// Days from the start until the goods that it uses are there.
    pub lead_days: u32,
    /// Hours of drying after it, before the next may start.
    pub dry_hours: u32,
}

/// No job takes longer than this many days; beyond it no date is told.
const LONGEST_DAYS: i64 = 36_500;

/// The day the last task is done; `None` without a working day, or for a job of more than a hundred years.
pub fn done_on(start: Date, hours_a_weekend: Hours, tasks: &[TaskTime]) -> Option<Date> {
    let days = days_of(start, hours_a_weekend, tasks)?;
    Some(days.iter().map(|d| d[1]).max().unwrap_or(start))
}

/// The first and the last day of each task; one without hours has the last day of the one before it.
pub fn days_of(start: Date, hours_a_weekend: Hours, tasks: &[TaskTime]) -> Option<Vec<[Date; 2]>> {
    let day_long = hours_a_weekend.0 / 2;
    if day_long <= 0 {
        return None;
    }
    // Time in hundredths of an hour since the morning of `start`; a day has 24 h, its first `day_long` are worked.
    const DAY: i64 = 2_400;
    let works = |day: i64| -> Option<bool> {
        let date = start
            .checked_add(jiff::Span::new().try_days(day).ok()?)
            .ok()?;
        Some(matches!(
            date.weekday(),
            Weekday::Saturday | Weekday::Sunday
        ))
    };
    let (mut day, mut used, mut ready) = (0_i64, 0_i64, 0_i64);
    let date = |day: i64| {
        start
            .checked_add(jiff::Span::new().try_days(day).ok()?)
            .ok()
    };
    let mut days = Vec::new();
    let mut last_day = 0;
    for task in tasks {
        let mut first = None;
        ready = ready.max(i64::from(task.lead_days) * DAY);
        let mut left = task.hours.0.max(0);
        while left > 0 {
            if day > LONGEST_DAYS {
                return None;
            }
            used = used.max((ready - day * DAY).max(0));
            if used >= day_long || !works(day)? {
                (day, used) = (day + 1, 0);
                continue;
            }
            let now = left.min(day_long - used);
            (left, used) = (left - now, used + now);
            first.get_or_insert(day);
            last_day = day;
        }
        ready = ready.max(day * DAY + used) + i64::from(task.dry_hours) * 100;
        days.push([date(first.unwrap_or(last_day))?, date(last_day)?]);
    }
    Some(days)
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    fn task(hours: i64, lead_days: u32, dry_hours: u32) -> TaskTime {
        TaskTime {
            hours: Hours(hours * 100),
            lead_days,
            dry_hours,
        }
    }

    /// Counted on a calendar: 11 July 2026 is a Saturday. 43 h at 11 h a weekend fill three weekends and end on the Sunday
    /// of the fourth; 24 h that wait nine days start on 25 July and end on the third Saturday.
    #[test]
    fn weekends_are_counted_as_on_a_calendar() {
        let start = date(2026, 7, 11);
        let weekend = Hours(1_100);
        assert_eq!(
            done_on(start, weekend, &[task(43, 0, 0)]),
            Some(date(2026, 8, 2))
        );
        assert_eq!(
            done_on(start, weekend, &[task(24, 9, 0)]),
            Some(date(2026, 8, 8))
        );
        assert_eq!(done_on(start, weekend, &[]), Some(start));
        assert_eq!(done_on(start, Hours(0), &[task(1, 0, 0)]), None);
    }

    /// Drying: a coat on Saturday morning that dries 24 h lets the next begin on Sunday; 48 h push it to the next weekend.
    #[test]
    fn drying_moves_the_date_and_not_the_hours() {
        let start = date(2026, 7, 11);
        let two = |dry| done_on(start, Hours(1_200), &[task(2, 0, dry), task(2, 0, 0)]);
        assert_eq!(two(0), Some(date(2026, 7, 11)));
        assert_eq!(two(24), Some(date(2026, 7, 12)));
        assert_eq!(two(48), Some(date(2026, 7, 18)));
    }
}
