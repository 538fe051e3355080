//! Beams: how far one sinks under an even load. Inches, pounds, psi; textbook formulas for a beam on two ends.

/// An even load and the beam it lies on.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Beam {
    /// Pounds on each inch of its length.
    pub load: f64,
    /// psi.
    pub psi: f64,
    /// Second moment of area, in^4.
    pub moment: f64,
}

/// How its ends and middle are held.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Held {
    /// Lies on pins: free to turn.
    OnPins,
    /// Fastened in: half of what loose ends give, between loose and clamped (a fifth). Common practice, no source.
    Fastened,
    /// Runs on over a support in the middle, so the span is half: 0.415 of a single span of that length.
    MiddleSupport,
}

/// Second moment of area of a board: width and thickness.
pub fn board_moment(wide: f64, thick: f64) -> f64 {
    wide * thick * thick * thick / 12.0
}

/// Second moment of area of a round bar.
pub fn round_moment(diameter: f64) -> f64 {
    std::f64::consts::PI * diameter * diameter * diameter * diameter / 64.0
}

/// Second moment of area of a shelf with a lip along its front, flush on top, reckoned in the shelf's own stiffness:
/// `lip` is thickness and full height, `ratio` how many times stiffer than the shelf it is.
pub fn lipped_moment(wide: f64, thick: f64, lip: (f64, f64), ratio: f64) -> f64 {
    let shelf = wide * thick;
    let bar = ratio * lip.0 * lip.1;
    let middle = (shelf * thick / 2.0 + bar * lip.1 / 2.0) / (shelf + bar);
    let (a, b) = (middle - thick / 2.0, middle - lip.1 / 2.0);
    board_moment(wide, thick) + shelf * a * a + ratio * board_moment(lip.0, lip.1) + bar * b * b
}

impl Beam {
    /// How far it sinks over that span, in.
    pub fn sinks(self, span: f64, held: Held) -> f64 {
        let free = |l: f64| 5.0 * self.load * l * l * l * l / (384.0 * self.psi * self.moment);
        match held {
            Held::OnPins => free(span),
            Held::Fastened => free(span) / 2.0,
            // w L^4 / 185 E I of each half.
            Held::MiddleSupport => {
                let half = span / 2.0;
                self.load * half * half * half * half / (185.0 * self.psi * self.moment)
            }
        }
    }

    /// The longest span, in whole 1/16 in up to 30 ft, whose sinking stays within `limit` of the span.
    pub fn longest(self, held: Held, limit: f64) -> f64 {
        let passes = |n: u32| {
            let span = f64::from(n) / 16.0;
            self.sinks(span, held) <= limit * span
        };
        let (mut good, mut bad) = (0, 16 * 360);
        while bad - good > 1 {
            let n = (good + bad) / 2;
            if passes(n) { good = n } else { bad = n }
        }
        f64::from(good) / 16.0
    }
}
