//! A growing season up to the day the book is made: crops, how beds are watered, waterings and readings.
//!
//! The ground was written down over three years and keeps its dates; a season has to end today to show
//! anything, so its dates are counted back from the day that is given.

use book::model::seen::{
    IntakeMinutes, Layer, Layers, Moisture, MoistureFeel, MoistureReading, Packing, PackingWords, Ring,
    RingDepth, RingDiameter, RingInfiltration, RingWater, SignDepth, SoilTension, VolumetricWater,
};
use book::model::{
    Bed, BedLength, BedWidth, CropCoefficient, CropRootDepth, Delivery, DepletionFraction, EmitterFlow,
    EmitterSpacing, EntryId, FarmCrop, Latitude, MonthDay, Mulch, MulchCover, MulchKind, Observation,
    PlantedCrop, PlantedHow, Planting, Seen, SprinklerRate, SupplyFlow, TapeFlow, WaterConductivity,
    WaterSupply, WateringAmount, WateringDepth, WateringDone, WateringMinutes, WateringSystem,
    WateringVolume,
};
use book::{Book, Result, Stamp};
use ground::kit::{Bounded, Refusal};
use ground::texture::Class;
use jiff::ToSpan;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::weather;

/// Writes the season into a book that holds the ground.
pub(super) fn run(book: &mut Book, today: Date) -> Result<()> {
    Season { book, today }.write()
}

struct Season<'a> {
    book: &'a mut Book,
    today: Date,
}

impl Season<'_> {
    fn day(&self, back: i64) -> Date {
        self.today.saturating_sub(back.days())
    }

    /// Eight in the morning of a day; later records of one day by the minute.
    fn stamp(&self, back: i64, minute: i64) -> Result<Stamp> {
        let morning = self.day(back).at(8, 0, 0, 0);
        let at = TimeZone::UTC.to_timestamp(morning).map_err(|error| {
            Refusal::new("at", format!("the day of the demonstration cannot be used: {error}"))
        })?;
        Ok(Stamp::new(at + minute.minutes(), "Mab"))
    }

    fn plot(&self, name: &str) -> Result<EntryId> {
        let snapshot = self.book.snapshot()?;
        Ok(snapshot.plot_named(name).map(|held| held.id).ok_or_else(|| missing(name))?)
    }

    fn bed(&self, name: &str) -> Result<EntryId> {
        let snapshot = self.book.snapshot()?;
        Ok(snapshot
            .beds
            .iter()
            .find(|held| held.body.name == name)
            .map(|held| held.id)
            .ok_or_else(|| missing(name))?)
    }

    fn write(mut self) -> Result<()> {
        self.place()?;
        let beds = self.beds()?;
        self.hardware(&beds)?;
        self.plantings(&beds)?;
        self.waterings(&beds)?;
        self.readings(&beds)
    }

    /// The farm lies where it is the growing season, and its weather is written down.
    fn place(&mut self) -> Result<()> {
        if weather::is_southern(self.today) {
            let farm = self.book.snapshot()?.farm;
            let mut body = farm.body.clone();
            let latitude = Latitude::literal(-42.5);
            body.latitude_degrees = Some(latitude);
            body.plan_origin = Some(super::plan::origin(latitude));
            body.last_frost = MonthDay::new(11, 12);
            body.first_frost = MonthDay::new(4, 2);
            let reason = "An invented farm: it lies in the south while it is the growing season there";
            self.book.revise(farm.id, farm.number, body, reason, &self.stamp(100, 0)?)?;
        }
        let stamp = self.stamp(90, 0)?;
        self.book.record(weather::normals(self.today), &stamp)?;
        let stamp = self.stamp(0, 0)?;
        self.book.record(weather::measured(self.today), &stamp)?;
        self.book.record(weather::forecast(self.today), &stamp)?;
        Ok(())
    }

    fn beds(&mut self) -> Result<Beds> {
        let creek = self.plot("Creek field")?;
        let stamp = self.stamp(80, 0)?;
        let herbs = self.book.record(bed(creek, "Herb bed", 9.144, 0.762), &stamp)?.id;
        let trial = self.book.record(bed(creek, "Trial bed", 18.288, 0.762), &stamp)?.id;
        Ok(Beds {
            creek: self.bed("Beds 1 to 12")?,
            east: self.bed("Beds A to E")?,
            west: self.bed("Beds F to K")?,
            knoll: self.bed("Carrot beds")?,
            herbs,
            trial,
        })
    }

    fn hardware(&mut self, beds: &Beds) -> Result<()> {
        let stamp = self.stamp(79, 0)?;
        let well = self.book.record(supply("Well", 30.0, Some(0.4)), &stamp)?.id;
        let pond = self.book.record(supply("Pond pump", 110.0, None), &stamp)?.id;
        let bore = self.book.record(supply("Old bore", 16.0, Some(2.8)), &stamp)?.id;
        let tape = Delivery::DripTape { flow_l_h_per_m: TapeFlow::literal(3.35), lines: 2 };
        let emitters = Delivery::Emitters {
            flow_l_h: EmitterFlow::literal(2.0),
            spacing_m: EmitterSpacing::literal(0.3),
            lines: 1,
        };
        let sprinkler = Delivery::Sprinkler { rate_mm_h: SprinklerRate::literal(9.0) };
        for (bed, supply, delivery) in [
            (beds.creek, well, tape),
            (beds.east, well, tape),
            (beds.west, bore, emitters),
            (beds.knoll, pond, sprinkler),
            (beds.herbs, well, Delivery::Hand),
        ] {
            let system = WateringSystem {
                bed,
                supply: (delivery != Delivery::Hand).then_some(supply),
                delivery,
                efficiency_percent: None,
                wetted_percent: None,
                note: String::new(),
            };
            self.book.record(system, &stamp)?;
        }
        Ok(())
    }

    fn plantings(&mut self, beds: &Beds) -> Result<()> {
        let stamp = self.stamp(60, 0)?;
        let basil = FarmCrop {
            key: None,
            name: "Bush basil".to_owned(),
            kc_initial: Some(CropCoefficient::literal(0.6)),
            kc_mid: Some(CropCoefficient::literal(1.05)),
            kc_end: Some(CropCoefficient::literal(1.0)),
            initial_days: Some(15),
            development_days: Some(25),
            mid_days: Some(50),
            late_days: Some(10),
            root_depth_m: Some(CropRootDepth::literal(0.4)),
            depletion_fraction: Some(DepletionFraction::literal(0.35)),
            height_m: None,
            n_kg_ha: None,
            p2o5_kg_ha: None,
            k2o_kg_ha: None,
            note: "Our own figures, from two summers".to_owned(),
        };
        let basil = self.book.record(basil, &stamp)?.id;
        let film = Mulch { of: MulchKind::Plastic, covered_percent: MulchCover::literal(80.0) };
        let crop = |key: &str| PlantedCrop::Catalogue(key.to_owned());
        let plantings = [
            (beds.creek, crop("cabbage"), 38, PlantedHow::Transplanted, 52, None),
            (beds.east, crop("tomato"), 55, PlantedHow::Transplanted, 90, Some(film)),
            (beds.west, crop("pepper"), 48, PlantedHow::Transplanted, 80, None),
            (beds.knoll, crop("carrot"), 44, PlantedHow::Sown, 40, None),
            (beds.herbs, PlantedCrop::FarmCrop(basil), 30, PlantedHow::Transplanted, 60, None),
            (beds.trial, crop("radish"), 12, PlantedHow::Sown, 18, None),
        ];
        for (bed, crop, back, how, more, mulch) in plantings {
            let planting = Planting {
                bed,
                crop,
                planted_on: self.day(back),
                how,
                harvest_on: Some(self.today.saturating_add(i64::from(more).days())),
                ended_on: None,
                mulch,
                yield_goal_kg: None,
                note: String::new(),
            };
            let stamp = self.stamp(back, 1)?;
            self.book.record(planting, &stamp)?;
        }
        Ok(())
    }

    fn waterings(&mut self, beds: &Beds) -> Result<()> {
        let minutes = |minutes| WateringAmount::Minutes(WateringMinutes::literal(minutes));
        let mut given: Vec<(EntryId, i64, WateringAmount)> = Vec::new();
        given.extend([36, 30, 25, 20, 16, 12, 8, 5].map(|back| (beds.creek, back, minutes(90.0))));
        given.extend((1..=18).map(|turn| (beds.east, 3 * turn - 1, minutes(45.0))));
        given.extend((1..=11).map(|turn| (beds.west, 4 * turn, minutes(150.0))));
        given.extend([40, 33, 26, 20, 14, 9, 5, 2].map(|back| (beds.knoll, back, minutes(120.0))));
        given.extend(
            (1..=9).map(|turn| {
                (beds.herbs, 3 * turn - 1, WateringAmount::VolumeL(WateringVolume::literal(120.0)))
            }),
        );
        given.push((beds.trial, 3, WateringAmount::DepthMm(WateringDepth::literal(10.0))));
        given.sort_by_key(|(_, back, _)| -back);
        for (at, (bed, back, amount)) in (0..).zip(given) {
            let watering = WateringDone { bed, on: self.day(back), amount, note: String::new() };
            let stamp = self.stamp(back, 10 + at)?;
            self.book.record(watering, &stamp)?;
        }
        Ok(())
    }

    fn readings(&mut self, beds: &Beds) -> Result<()> {
        let creek = self.plot("Creek field")?;
        let feel = |feel| MoistureReading::Feel(feel);
        let tension = |kpa| MoistureReading::TensionKpa(SoilTension::literal(kpa));
        let wet = |percent| MoistureReading::VolumetricPercent(VolumetricWater::literal(percent));
        for (plot, bed, back, from_cm, reading) in [
            ("Creek field", beds.creek, 19, 15.0, feel(MoistureFeel::Moist)),
            ("Creek field", beds.creek, 3, 15.0, feel(MoistureFeel::SlightlyMoist)),
            ("East tunnel", beds.east, 15, 15.0, tension(28.0)),
            ("East tunnel", beds.east, 6, 25.0, tension(40.0)),
            ("Sand knoll", beds.knoll, 11, 15.0, wet(11.0)),
        ] {
            let moisture =
                Moisture { bed: Some(bed), from_cm: SignDepth::literal(from_cm), to_cm: None, reading };
            let plot = self.plot(plot)?;
            self.observe(plot, back, Seen::Moisture(moisture), "")?;
        }
        let ring = |first: f64, second: f64| Ring {
            water: RingWater::DepthMm(RingDepth::literal(25.4)),
            first_min: IntakeMinutes::literal(first),
            second_min: Some(IntakeMinutes::literal(second)),
            still_stood: false,
        };
        let rings = RingInfiltration {
            inside_diameter_mm: RingDiameter::literal(150.0),
            rings: vec![ring(9.0, 24.0), ring(14.0, 41.0), ring(6.0, 19.0)],
        };
        self.observe(creek, 70, Seen::RingInfiltration(rings), "Coffee cans, between the rows")?;
        let top = Layer::between(SignDepth::literal(0.0), SignDepth::literal(25.0));
        let below = Layer {
            class: Some(Class::SiltyClayLoam),
            packing: Some(Packing::Words(PackingWords::Firm)),
            note: "Plough layer ends sharply; few roots below".to_owned(),
            ..Layer::between(SignDepth::literal(25.0), SignDepth::literal(60.0))
        };
        self.observe(creek, 71, Seen::Layers(Layers { layers: vec![top, below] }), "Pit beside bed 6")
    }

    fn observe(&mut self, plot: EntryId, back: i64, seen: Seen, note: &str) -> Result<()> {
        let observation = Observation {
            plot,
            sample: None,
            seen_on: self.day(back),
            seen_by: "Mab".to_owned(),
            note: note.to_owned(),
            import: None,
            spot: None,
            seen,
        };
        let stamp = self.stamp(back, 200)?;
        self.book.record(observation, &stamp)?;
        Ok(())
    }
}

/// Beds of the season.
struct Beds {
    creek: EntryId,
    east: EntryId,
    west: EntryId,
    knoll: EntryId,
    herbs: EntryId,
    trial: EntryId,
}

fn missing(name: &str) -> Refusal {
    Refusal::new("name", format!("the demonstration has nothing called {name}"))
}

fn bed(plot: EntryId, name: &str, length_m: f64, width_m: f64) -> Bed {
    Bed {
        plot,
        name: name.to_owned(),
        length_m: BedLength::literal(length_m),
        width_m: BedWidth::literal(width_m),
        count: 1,
    }
}

fn supply(name: &str, flow_l_min: f64, ec_ds_m: Option<f64>) -> WaterSupply {
    WaterSupply {
        name: name.to_owned(),
        flow_l_min: Some(SupplyFlow::literal(flow_l_min)),
        ec_ds_m: ec_ds_m.map(WaterConductivity::literal),
        sodium_mg_l: None,
        calcium_mg_l: None,
        magnesium_mg_l: None,
        bicarbonate_mg_l: None,
        nitrate_n_mg_l: None,
        note: String::new(),
    }
}
