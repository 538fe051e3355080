//! What was taken for want of a value, told once: runs that leave out the same thing share a line, which names their routes
//! where others say it.

use crate::model::DefaultUsed;

/// The list without repeats, in its order; `routes` are all of the job.
pub(super) fn told_once(all: Vec<DefaultUsed>, routes: &[String]) -> Vec<DefaultUsed> {
    let mut told: Vec<(DefaultUsed, Vec<String>)> = Vec::new();
    for mut one in all {
        let route = one.route.take();
        let at = told.iter().position(|t| t.0 == one).unwrap_or_else(|| {
            told.push((one, Vec::new()));
            told.len() - 1
        });
        let named = &mut told[at].1;
        named.extend(route.filter(|r| !named.contains(r)));
    }
    let of = |(mut one, named): (DefaultUsed, Vec<String>)| {
        if !named.is_empty() && routes.iter().any(|r| !named.contains(r)) {
            let noun = if named.len() == 1 { "route" } else { "routes" };
            one.place = format!("{}, {noun} {}", one.place, named.join(", "));
        }
        one
    };
    told.into_iter().map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taken(place: &str, value: &str, route: Option<&str>) -> DefaultUsed {
        DefaultUsed {
            place: place.into(),
            value: value.into(),
            why: "usual".into(),
            route: route.map(Into::into),
        }
    }

    /// By hand: what both runs leave out stands once and names no route; what one leaves out names its route; what is no run's stays
    /// as it is.
    #[test]
    fn each_stands_once_and_names_its_route_where_runs_differ() {
        let all = vec![
            taken("[saw] kerf", "1/8", None),
            taken("[[run]] joint", "rabbet", Some("custom")),
            taken("[[run]] box_depth", "less 1", Some("custom")),
            taken("[[run]] joint", "rabbet", Some("bought")),
            taken("[[run]] joint", "rabbet", Some("bought")),
        ];
        let routes = ["custom".to_owned(), "bought".to_owned()];
        let told = told_once(all, &routes);
        let places: Vec<&str> = told.iter().map(|d| d.place.as_str()).collect();
        assert_eq!(
            places,
            [
                "[saw] kerf",
                "[[run]] joint",
                "[[run]] box_depth, route custom"
            ]
        );
        let one = vec![taken("[[run]] joint", "rabbet", Some("custom"))];
        let told = told_once(one, &routes[..1]);
        assert_eq!(told[0].place, "[[run]] joint");
    }
}
