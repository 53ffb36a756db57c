//! The demonstration book: it can be written, it is sound, and it has something of everything.

use std::collections::BTreeSet;

use book::model::{Place, Seen};

use crate::yard::Yard;

#[test]
fn it_has_something_of_everything() {
    let farm = Yard::demo().snapshot();
    assert!(farm.plots.len() >= 6);
    let tunnels = farm.plots.iter().filter(|plot| plot.body.place == Place::HighTunnel).count();
    assert_eq!(tunnels, 2);
    let kinds: BTreeSet<_> = farm.observations.iter().map(|held| held.body.seen.what()).collect();
    for kind in [
        "jar",
        "kitchen_scale",
        "feel",
        "hydrometer",
        "lab_texture",
        "organic_matter",
        "gravel",
        "packing",
        "salinity",
        "signs",
    ] {
        assert!(kinds.contains(kind), "no {kind}");
    }
    let years: BTreeSet<_> = farm.observations.iter().map(|held| held.body.seen_on.year()).collect();
    assert!(years.len() >= 3, "{years:?}");
    assert_eq!(farm.running_jars().len(), 1);
    assert!(!farm.jar_lab_pairs().is_empty());
    assert!(farm.plots.iter().any(|plot| farm.evidence(plot.id).next().is_none()), "every plot has evidence");
    assert!(!farm.withdrawn.is_empty() && !farm.decisions.is_empty() && !farm.notes.is_empty());
    assert_eq!(farm.photos.len(), 2);
    assert!(!farm.beds.is_empty() && !farm.structures.is_empty());
    assert!(farm.observations.iter().any(|held| held.number > 1 && matches!(held.body.seen, Seen::Jar(_))));
}

#[test]
fn it_is_the_same_every_time() {
    let (first, second) = (Yard::demo().snapshot(), Yard::demo().snapshot());
    // The farm's own record is written before the identities are seeded.
    assert!(first.farm.body == second.farm.body);
    for (a, b) in [
        (serde_json::to_string(&first.plots), serde_json::to_string(&second.plots)),
        (serde_json::to_string(&first.observations), serde_json::to_string(&second.observations)),
        (serde_json::to_string(&first.photos), serde_json::to_string(&second.photos)),
        (serde_json::to_string(&first.withdrawn), serde_json::to_string(&second.withdrawn)),
    ] {
        assert!(a.expect("serialises") == b.expect("serialises"));
    }
}
