//! The kinds of evidence, in the words of the trade: what each takes and what it gives.

use ground::registry;
use serde::Serialize;

/// One kind of evidence.
#[derive(Debug, Serialize)]
pub(super) struct Kind {
    /// Last part of its address; the same as in the list of what would settle open questions.
    pub(super) key: &'static str,
    /// What it is called.
    pub(super) title: &'static str,
    /// What to have at hand.
    pub(super) have: &'static str,
    /// What it tells.
    pub(super) tells: &'static str,
    /// Minutes of work.
    pub(super) minutes: u32,
    /// How long it takes beside the work; empty when one need not wait.
    pub(super) wait: &'static str,
    /// The method that reads it; empty where several findings use it as it is.
    pub(super) method: &'static str,
    /// Cautions of the work itself.
    pub(super) warns: &'static [&'static str],
}

impl Kind {
    /// Cautions of the work, and of the method that reads it.
    pub(super) fn cautions(&self) -> Vec<&'static str> {
        let of_method = registry::find(self.method).map_or(&[][..], |method| method.card().cautions);
        self.warns.iter().chain(of_method).copied().collect()
    }

    /// "20 minutes", "30 minutes of work over 2 days".
    pub(super) fn time(&self) -> String {
        if self.wait.is_empty() {
            format!("{} minutes", self.minutes)
        } else {
            format!("{} minutes of work, {}", self.minutes, self.wait)
        }
    }
}

pub(super) static TIMED_JAR: Kind = Kind {
    key: "timed-jar",
    title: "A jar, shaken now",
    have: "A straight clear jar with a lid, water, powdered dishwasher detergent, a pen that writes on glass, a ruler",
    tells: "Sand, silt and clay. Marks made at known times tell which sizes have settled, so it is surer than a jar read at the end.",
    minutes: 30,
    wait: "over two days",
    method: "jar-test",
    warns: &[],
};

pub(super) static JAR: Kind = Kind {
    key: "jar",
    title: "A jar that has settled",
    have: "The jar, as it stands, and a ruler",
    tells: "Sand, silt and clay from the thickness of the layers.",
    minutes: 5,
    wait: "",
    method: "jar-test",
    warns: &[],
};

pub(super) static FEEL: Kind = Kind {
    key: "feel",
    title: "Feel: ball, ribbon and rub",
    have: "A handful of moist soil and water",
    tells: "A texture class, named through the fingers.",
    minutes: 10,
    wait: "",
    method: "texture-by-feel",
    warns: &[],
};

pub(super) static KITCHEN_SCALE: Kind = Kind {
    key: "kitchen-scale",
    title: "Sieve and kitchen scale",
    have: "A fine sieve (No. 270 or so), a kitchen scale, dishwasher powder, a warm oven",
    tells: "Sand, silt and clay by weight, free of the jar's doubt about how tightly its layers pack.",
    minutes: 60,
    wait: "over two days",
    method: "kitchen-scale-texture",
    warns: &[],
};

pub(super) static HYDROMETER: Kind = Kind {
    key: "hydrometer",
    title: "Hydrometer",
    have: "A 152H soil hydrometer, a litre cylinder, a thermometer, dispersant",
    tells: "Sand, silt and clay from two readings.",
    minutes: 45,
    wait: "over a day",
    method: "hydrometer-texture",
    warns: &[],
};

pub(super) static LABORATORY: Kind = Kind {
    key: "laboratory",
    title: "Laboratory texture",
    have: "The report",
    tells: "Sand, silt and clay; with a jar of the same bag it also teaches how this farm's jars pack.",
    minutes: 5,
    wait: "",
    method: "lab-texture",
    warns: &[],
};

pub(super) static LAB_REPORT: Kind = Kind {
    key: "lab-report",
    title: "A laboratory's soil test",
    have: "The printout of the laboratory",
    tells: "Acidity, nutrients, salts and organic matter, each figure with its unit and method, and what the laboratory itself recommends. A table of several samples can be taken in at once.",
    minutes: 10,
    wait: "",
    method: "",
    warns: &[],
};

pub(super) static ORGANIC_MATTER: Kind = Kind {
    key: "organic-matter",
    title: "Organic matter",
    have: "A report, or a guess from colour and history",
    tells: "Water holding, crusting and how easily the ground packs.",
    minutes: 2,
    wait: "",
    method: "",
    warns: &[],
};

pub(super) static GRAVEL: Kind = Kind {
    key: "gravel",
    title: "Gravel and stones",
    have: "A 2 mm sieve and a scale, or your eye",
    tells: "How much of the ground is stones, which hold no water.",
    minutes: 10,
    wait: "",
    method: "",
    warns: &[],
};

pub(super) static PACKING: Kind = Kind {
    key: "packing",
    title: "Packing",
    have: "A hand, a trowel and a fork; or a core of known volume, dried and weighed",
    tells: "Water, air and how hard roots and posts have it.",
    minutes: 5,
    wait: "",
    method: "",
    warns: &[],
};

pub(super) static SALINITY: Kind = Kind {
    key: "salinity",
    title: "Salts",
    have: "A report or a conductivity meter",
    tells: "How much harder salt makes it to draw water.",
    minutes: 5,
    wait: "",
    method: "",
    warns: &[],
};

pub(super) static SIGNS: Kind = Kind {
    key: "signs",
    title: "Signs in the field",
    have: "Boots, a spade, a tape",
    tells: "Standing water, crust, hard layers, smell: what the ground shows of itself.",
    minutes: 10,
    wait: "",
    method: "",
    warns: &[],
};

pub(super) static MOISTURE: Kind = Kind {
    key: "moisture",
    title: "How moist it is now",
    have: "A spade or an auger and your hand; or a tensiometer, or a moisture sensor",
    tells: "Where the water in the ground stands today, against which the reckoning from weather and waterings is put right.",
    minutes: 5,
    wait: "",
    method: "",
    warns: &[],
};

pub(super) static RING_INFILTRATION: Kind = Kind {
    key: "ring-infiltration",
    title: "Rings: how fast water goes in",
    have: "One to five rings (a coffee can without its ends will do), a block and a hammer, a measure of water, a clock",
    tells: "How fast this ground takes water, measured where it matters. Three rings in places that look alike say how much it varies.",
    minutes: 40,
    wait: "",
    method: "",
    warns: &[],
};

pub(super) static PERCOLATION: Kind = Kind {
    key: "percolation",
    title: "A test hole: how fast water leaves it",
    have: "A hole about a foot wide and as deep as the roots go, two fillings of water, a ruler, a clock",
    tells: "Whether water leaves the ground below the surface, or stands.",
    minutes: 30,
    wait: "over a day, for soaking the hole",
    method: "",
    warns: &[
        "Have buried pipes and cables located before you dig, and cover or fill the hole when you leave it.",
        "This is a sign for growing, not a test for a septic system: siting one is licensed work under local codes.",
    ],
};

pub(super) static LAYERS: Kind = Kind {
    key: "layers",
    title: "The layers of the ground",
    have: "A spade or an auger, a tape, your fingers",
    tells: "What lies below the plough layer: where texture, packing or stones change, and so where water slows and roots turn.",
    minutes: 45,
    wait: "",
    method: "",
    warns: &[
        "Have buried pipes and cables located before you dig. Do not climb into a pit deeper than 4 ft (1.2 m) unless its walls are sloped or shored.",
    ],
};

pub(super) static PROBE: Kind = Kind {
    key: "probe",
    title: "A probe transect",
    have: "A penetrometer with its gauge, or a plain rod 3/8 in (1 cm) thick; a tape; moist ground",
    tells: "Where a hard layer begins and ends, and how much of the plot has one: ten to twenty pushes, one or two days after a soaking.",
    minutes: 30,
    wait: "",
    method: "probe-transect",
    warns: &[],
};

pub(super) static CORES: Kind = Kind {
    key: "cores",
    title: "Density cores",
    have: "A ring of known volume, a mallet, a knife, a scale, an oven",
    tells: "How dense the ground is between its stones, against the density that holds roots up.",
    minutes: 40,
    wait: "and a night of drying",
    method: "core-bulk-density",
    warns: &[],
};

pub(super) static SPADE: Kind = Kind {
    key: "spade",
    title: "A spade block",
    have: "A spade, your hands, something growing in the ground",
    tells: "Whether roots pass: nothing is loosened before the spade agrees with the probe.",
    minutes: 15,
    wait: "",
    method: "visual-structure-score",
    warns: &["Have buried pipes and cables located before you dig."],
};

pub(super) static SLAKE: Kind = Kind {
    key: "slake",
    title: "The slake test",
    have: "Sixteen dry crumbs as big as peas, a mesh of window screen, water, a watch",
    tells: "How well crumbs stand water, and so whether the surface seals in the first hard rain.",
    minutes: 20,
    wait: "",
    method: "slake-test",
    warns: &[],
};

pub(super) static WORKING: Kind = Kind {
    key: "working",
    title: "The working test",
    have: "A handful from working depth",
    tells: "Whether it may be worked today, and, with the days since rain, how long this ground takes.",
    minutes: 3,
    wait: "",
    method: "ball-test",
    warns: &[],
};

pub(super) static BUILDING_GROUND: Kind = Kind {
    key: "building-ground",
    title: "Ground to build on",
    have: "A post-hole digger or an auger, a bar, a tape, your fingers; a laboratory's limits if you have them",
    tells: "Where posts begin to count, where water stands, how plastic the ground is and how it rusts steel: how deep posts must stand hangs on it.",
    minutes: 30,
    wait: "",
    method: "",
    warns: &[ground::posts::cautions::SERVICES, "Cover open holes."],
};

/// Every kind, in the order in which they are offered.
pub(super) static KINDS: [&Kind; 22] = [
    &TIMED_JAR,
    &JAR,
    &FEEL,
    &KITCHEN_SCALE,
    &HYDROMETER,
    &LABORATORY,
    &LAB_REPORT,
    &ORGANIC_MATTER,
    &GRAVEL,
    &PACKING,
    &SALINITY,
    &SIGNS,
    &MOISTURE,
    &RING_INFILTRATION,
    &PERCOLATION,
    &LAYERS,
    &PROBE,
    &SPADE,
    &CORES,
    &SLAKE,
    &WORKING,
    &BUILDING_GROUND,
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_its_form_and_its_method() {
        for kind in KINDS {
            assert!(crate::route::exists(&format!("/plots/{{plot}}/record/{}", kind.key)), "{}", kind.key);
            assert!(kind.method.is_empty() || registry::find(kind.method).is_some(), "{}", kind.method);
        }
    }
}
