//! JSON that a person can read too: a value stays on one line where it is short, else it is broken and set in.

use serde::Serialize;

/// Longest value kept on one line.
const LINE: usize = 140;

/// Any result as JSON, keys in the order of its type, with a line end. The same value gives the same text.
pub fn json_text<T: Serialize + ?Sized>(value: &T) -> String {
    let compact =
        serde_json::to_string(value).expect("results have text keys and finite numbers only");
    let mut out = String::with_capacity(compact.len() * 5 / 4);
    lay_out(compact.as_bytes(), &mut out, 0);
    out.push('\n');
    out
}

/// Where the value that starts at `from` ends.
fn end_of(json: &[u8], from: usize) -> usize {
    let (mut depth, mut at, mut in_text) = (0_usize, from, false);
    while at < json.len() {
        match json[at] {
            b'\\' if in_text => at += 1,
            b'"' => in_text = !in_text,
            b'[' | b'{' if !in_text => depth += 1,
            b']' | b'}' if !in_text => {
                if depth == 0 {
                    return at;
                }
                depth -= 1;
            }
            b',' if !in_text && depth == 0 => return at,
            _ => {}
        }
        at += 1;
    }
    at
}

/// The same, for a key: where its colon stands.
fn end_of_key(json: &[u8]) -> usize {
    let mut at = 1;
    while at < json.len() && json[at] != b'"' {
        at += if json[at] == b'\\' { 2 } else { 1 };
    }
    at + 1
}

fn text(json: &[u8]) -> &str {
    std::str::from_utf8(json).expect("JSON is cut between whole characters")
}

fn lay_out(json: &[u8], out: &mut String, depth: usize) {
    let opens = json.first().copied();
    if !matches!(opens, Some(b'[' | b'{')) || json.len() <= 2 {
        out.push_str(text(json));
        return;
    }
    let object = opens == Some(b'{');
    let inside = &json[1..json.len() - 1];
    let broken = json.len() + depth * 2 > LINE;
    out.push(if object { '{' } else { '[' });
    let mut at = 0;
    while at < inside.len() {
        let end = end_of(inside, at);
        if broken {
            out.push('\n');
            out.extend(std::iter::repeat_n(' ', (depth + 1) * 2));
        } else if object || at > 0 {
            out.push(' ');
        }
        let mut value = &inside[at..end];
        if object {
            let colon = end_of_key(value);
            out.push_str(text(&value[..colon]));
            out.push_str(": ");
            value = &value[colon + 1..];
        }
        lay_out(value, out, depth + 1);
        if end < inside.len() {
            out.push(',');
        }
        at = end + 1;
    }
    if broken {
        out.push('\n');
        out.extend(std::iter::repeat_n(' ', depth * 2));
    } else if object {
        out.push(' ');
    }
    out.push(if object { '}' } else { ']' });
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::{Value, json};

    #[test]
    fn short_values_stay_on_their_line() {
        let v = json!({"a": [1, 2], "b": {"c": "x, \"y\" {"}});
        assert_eq!(
            json_text(&v),
            "{ \"a\": [1, 2], \"b\": { \"c\": \"x, \\\"y\\\" {\" } }\n"
        );
        assert_eq!(json_text(&json!([])), "[]\n");
    }

    fn any_json() -> impl Strategy<Value = Value> {
        let leaf = prop_oneof![
            Just(Value::Null),
            any::<bool>().prop_map(Value::from),
            any::<i64>().prop_map(Value::from),
            any::<String>().prop_map(Value::from),
        ];
        leaf.prop_recursive(5, 80, 9, |inner| {
            prop_oneof![
                prop::collection::vec(inner.clone(), 0..9).prop_map(Value::from),
                prop::collection::btree_map(any::<String>(), inner, 0..9)
                    .prop_map(|m| m.into_iter().collect()),
            ]
        })
    }

    proptest! {
        /// RFC 8259 allows blanks between tokens only: the laid out text must read as the same value.
        #[test]
        fn laying_out_changes_no_value(v in any_json()) {
            let back: Value = serde_json::from_str(&json_text(&v)).expect("still JSON");
            prop_assert_eq!(back, v);
        }
    }
}
