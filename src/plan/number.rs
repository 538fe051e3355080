//! The plan number: eight characters made from the plan itself, so that any plan that differs has another.

use crate::model::Plan;
use sha2::{Digest, Sha256};

/// `7C41-9E02`: the first four bytes of the SHA-256 of the plan as JSON with its number left empty.
pub(super) fn plan_number(plan: &Plan) -> String {
    let mut blank = plan.clone();
    blank.plan_number.clear();
    let bytes =
        serde_json::to_vec(&blank).expect("a plan has no map keys or floats that JSON cannot hold");
    let d = Sha256::digest(&bytes);
    format!("{:02X}{:02X}-{:02X}{:02X}", d[0], d[1], d[2], d[3])
}
