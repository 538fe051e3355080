//! The floor of the opening seen from above, and what boxes that stand leave of it.
//!
//! Owns two questions: where a rectangle of floor is free, and whether an upright box can be moved, without turning it, from one place
//! to another past what stands. `x` runs right from the left plumb line, `z` from the back wall to the front. Method: a free
//! rectangle can be slid left and back until it touches something, so only such corners are tried; free places of a moved
//! rectangle hang together along the lines at which it touches something, so those lines make the grid that is searched.

use crate::units::Length;

/// A level rectangle: from and to along `x`, from and to along `z`.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) struct Foot {
    pub(crate) x: [Length; 2],
    pub(crate) z: [Length; 2],
}

impl Foot {
    /// With its left back corner there and that size along `x` and `z`.
    pub(crate) fn at((x, z): (Length, Length), size: [Length; 2]) -> Self {
        Self {
            x: [x, x + size[0]],
            z: [z, z + size[1]],
        }
    }
    pub(crate) fn size(&self) -> [Length; 2] {
        [self.x[1] - self.x[0], self.z[1] - self.z[0]]
    }
    /// True if they share floor; touching is not sharing.
    pub(crate) fn meets(&self, o: &Self) -> bool {
        let over = |a: [Length; 2], b: [Length; 2]| a[0] < b[1] && b[0] < a[1];
        over(self.x, o.x) && over(self.z, o.z)
    }
    fn holds(&self, o: &Self) -> bool {
        let within = |a: [Length; 2], b: [Length; 2]| a[0] <= b[0] && b[1] <= a[1];
        within(self.x, o.x) && within(self.z, o.z)
    }
}

/// True if the whole rectangle lies on the floor and nothing stands on it.
pub(crate) fn is_free(floor: &Foot, standing: &[Foot], foot: &Foot) -> bool {
    floor.holds(foot) && standing.iter().all(|s| !s.meets(foot))
}

/// Left back corners at which a rectangle of that size is free; every free place can be slid to one of them.
pub(crate) fn free_places(
    floor: &Foot,
    standing: &[Foot],
    size: [Length; 2],
) -> Vec<(Length, Length)> {
    let edges = |first: Length, of: fn(&Foot) -> Length| {
        let mut list: Vec<Length> = standing.iter().map(of).collect();
        list.push(first);
        list.sort_unstable();
        list.dedup();
        list
    };
    let (xs, zs) = (edges(floor.x[0], |s| s.x[1]), edges(floor.z[0], |s| s.z[1]));
    let mut found = Vec::new();
    for z in &zs {
        for x in &xs {
            if is_free(floor, standing, &Foot::at((*x, *z), size)) {
                found.push((*x, *z));
            }
        }
    }
    found
}

/// The longest free strip of that breadth, along `x` or (`deep`) along `z`.
pub(crate) fn longest(floor: &Foot, standing: &[Foot], breadth: Length, deep: bool) -> Length {
    let size = |long: Length| {
        if deep {
            [breadth, long]
        } else {
            [long, breadth]
        }
    };
    let mut best = Length::ZERO;
    for corner in free_places(floor, standing, size(Length::from_units(1))) {
        let whole = Foot::at(corner, size(Length::from_units(1)));
        let (end, from) = if deep {
            (floor.z[1], corner.1)
        } else {
            (floor.x[1], corner.0)
        };
        let strip = Foot::at(corner, size(end - from));
        let stop = standing
            .iter()
            .filter(|s| s.meets(&strip) && !s.meets(&whole))
            .map(|s| if deep { s.z[0] } else { s.x[0] })
            .min();
        best = best.max(stop.unwrap_or(end) - from);
    }
    best
}

/// Every corner the upright box can be moved to from its place, among the touching corners and those `also` asked for.
pub(crate) fn reached(
    floor: &Foot,
    standing: &[Foot],
    place: &Foot,
    also: &[(Length, Length)],
) -> Vec<(Length, Length)> {
    let size = place.size();
    let lines = |span: [Length; 2], size: Length, of: fn(&Foot) -> [Length; 2], own: Length| {
        let mut list = vec![span[0], span[1] - size, own];
        for s in standing {
            let [from, to] = of(s);
            list.extend([from - size, to]);
        }
        list
    };
    let mut xs = lines(floor.x, size[0], |s| s.x, place.x[0]);
    let mut zs = lines(floor.z, size[1], |s| s.z, place.z[0]);
    xs.extend(also.iter().map(|c| c.0));
    zs.extend(also.iter().map(|c| c.1));
    for list in [&mut xs, &mut zs] {
        list.sort_unstable();
        list.dedup();
    }
    // Where the box goes over the way from corner to corner: the smallest rectangle round both.
    let clear = |a: (Length, Length), b: (Length, Length)| {
        let (from, to) = (a.min(b), a.max(b));
        let size = [to.0 - from.0 + size[0], to.1 - from.1 + size[1]];
        is_free(floor, standing, &Foot::at(from, size))
    };
    let at = |i: usize, k: usize| (xs[i], zs[k]);
    let Some(start) = xs
        .iter()
        .position(|x| *x == place.x[0])
        .zip(zs.iter().position(|z| *z == place.z[0]))
    else {
        return Vec::new();
    };
    let mut seen = vec![false; xs.len() * zs.len()];
    let mut to_do = vec![start];
    seen[start.0 * zs.len() + start.1] = true;
    let mut found = Vec::new();
    while let Some((i, k)) = to_do.pop() {
        found.push(at(i, k));
        let next = [
            (i.wrapping_sub(1), k),
            (i + 1, k),
            (i, k.wrapping_sub(1)),
            (i, k + 1),
        ];
        for (a, b) in next {
            if a < xs.len() && b < zs.len() && !seen[a * zs.len() + b] && clear(at(i, k), at(a, b))
            {
                seen[a * zs.len() + b] = true;
                to_do.push((a, b));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn foot(x: [i64; 2], z: [i64; 2]) -> Foot {
        Foot {
            x: x.map(Length::inches),
            z: z.map(Length::inches),
        }
    }
    fn place(x: i64, z: i64) -> (Length, Length) {
        (Length::inches(x), Length::inches(z))
    }

    #[test]
    fn what_an_l_leaves_by_hand() {
        // 96 x 72; a row 24 deep along the back from 0 to 72, another 20 deep down the left from 24 to 60.
        let floor = foot([0, 96], [0, 72]);
        let row = [foot([0, 72], [0, 24]), foot([0, 20], [24, 60])];
        let inches = |breadth: i64, deep| {
            let l = longest(&floor, &row, Length::inches(breadth), deep);
            l.as_inches()
        };
        // 24 broad: 20 to 96 in front of the back row, or the whole depth right of it. 25 broad: from 24 to 72 only.
        assert_eq!((inches(24, false), inches(24, true)), (76.0, 72.0));
        assert_eq!(inches(25, true), 48.0);
        // 49 broad: in front of the back row are 48, so only the 24 right of it are left.
        assert_eq!(inches(49, false), 24.0);
    }

    #[test]
    fn a_corner_shut_by_a_side_row() {
        // The box 24 x 24 in the left back corner; a row down the left wall from 24 to 72, 30 deep: no way forward.
        let floor = foot([0, 60], [0, 72]);
        let corner = foot([0, 24], [0, 24]);
        let side = foot([0, 30], [24, 72]);
        let front = place(30, 48);
        assert!(
            reached(&floor, &[side], &corner, &[front]).contains(&front),
            "sideways, then forward"
        );
        let right = foot([36, 60], [0, 24]);
        assert!(!reached(&floor, &[side, right], &corner, &[front]).contains(&front));
        // Between rows that leave its own width it passes.
        let narrow = foot([0, 36], [24, 72]);
        assert!(reached(&floor, &[narrow], &corner, &[place(36, 48)]).contains(&place(36, 48)));
    }
}
