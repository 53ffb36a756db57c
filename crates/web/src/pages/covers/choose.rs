//! `/beds/{bed}/covers`: which cover for a gap of a bed, with what speaks for and against each.

use advice::covers::{CoverAnswer, CoverLine, CoverQuestion, choose, tell};
use askama::Template;
use book::model::{EntryId, UnitSystem, area_rate_words};
use ground::covers::choice::{Firmness as Surely, WinterWish};
use ground::covers::kinds::Purpose;
use ground::kit::Refusal;
use serde::Serialize;

use crate::ask::Ask;
use crate::form::{Choice, Field, Form, Reader};
use crate::parts::Firmness;
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};
use crate::when;

const YES_OR_NO: [Choice; 2] = [Choice::new("yes", "Yes"), Choice::new("no", "No")];

/// Purposes by their answer.
const PURPOSES: [(&str, Purpose); 10] = [
    ("cover_quickly", Purpose::CoverQuickly),
    ("smother", Purpose::Smother),
    ("hold_nitrogen", Purpose::HoldNitrogen),
    ("feed_nitrogen", Purpose::FeedNitrogen),
    ("protect", Purpose::Protect),
    ("break_pan", Purpose::BreakPan),
    ("loosen_top", Purpose::LoosenTop),
    ("build_organic", Purpose::BuildOrganic),
    ("dry_wet_spot", Purpose::DryWetSpot),
    ("stand_heat", Purpose::StandHeat),
];

const FIELDS: &[Field] = &[
    Field::hidden("gap").optional(),
    Field::day("from", "First day it can be sown", "").optional(),
    Field::day("to", "Day the bed is wanted", "").optional(),
    Field::any_of(
        "purpose",
        "What it is sown for",
        "One or two: few covers serve three at once. Leave all open to have it proposed",
        &[
            Choice::new("cover_quickly", "Cover the ground quickly"),
            Choice::new("smother", "Smother weeds"),
            Choice::new("hold_nitrogen", "Hold nitrogen that would wash out"),
            Choice::new("feed_nitrogen", "Feed nitrogen to the next crop"),
            Choice::new("protect", "Protect bare ground"),
            Choice::new("break_pan", "Break a pan"),
            Choice::new("loosen_top", "Loosen the topsoil"),
            Choice::new("build_organic", "Build organic matter"),
            Choice::new("dry_wet_spot", "Dry a wet spot"),
            Choice::new("stand_heat", "Stand heat"),
        ],
    ),
    Field::pick(
        "winter",
        "The winter shall",
        "Where there is a winter in the gap",
        &[Choice::new("killed", "Kill it"), Choice::new("lives", "Let it live, to grow on in spring")],
    )
    .optional(),
    Field::pick("wet", "Does the ground lie wet then", "By what was seen where nothing is said", &YES_OR_NO)
        .optional(),
    Field::pick(
        "dry",
        "Does it run short of water then",
        "By rain and watering where nothing is said",
        &YES_OR_NO,
    )
    .optional(),
    Field::tick("drilled", "It is sown in rows", "Otherwise by hand or a spinner, which takes more seed"),
];

#[derive(Template, Serialize)]
#[template(path = "covers/choose.html")]
struct ChoosePage {
    #[serde(skip)]
    shell: Shell,
    #[serde(flatten)]
    answer: CoverAnswer,
    #[serde(skip)]
    bed: EntryId,
    #[serde(skip)]
    form: Form,
    #[serde(skip)]
    best: Vec<Shelf>,
    #[serde(skip)]
    others: Vec<Shelf>,
    #[serde(skip)]
    out: Vec<Shelf>,
    #[serde(skip)]
    mixes: Vec<MixShelf>,
}

/// A cover as the page shows it.
struct Shelf {
    line: CoverLine,
    surely: Firmness,
    ratings: String,
    /// Sowing, growth, winter, end and seed.
    course: Vec<String>,
    recalled: Option<String>,
    /// Where it is written down.
    sow: String,
}

struct MixShelf {
    key: String,
    name: String,
    lines: Vec<String>,
    sow: String,
}

pub(super) fn show(ask: &Ask) -> Outcome {
    let desk = ask.desk()?;
    let snapshot = desk.snapshot()?;
    let bed = snapshot.bed(ask.entry("bed")?).ok_or_else(|| {
        Problem::not_found(
            "This book has no such bed. It may have been withdrawn, or belong to another book.",
        )
    })?;
    let told = desk
        .told(&snapshot, bed.body.plot)
        .ok_or_else(|| Problem::not_found("The plot of this bed was withdrawn; restore it first."))?;
    let today = when::day_of(ask.stamp().at);
    let units = ask.units();
    let mut read = Reader::new(FIELDS, units, &ask.query);
    let mut question = question(&mut read);
    let mut refusals: Vec<Refusal> = read.refusals().to_vec();
    let answered = match choose(&snapshot, &told.report, bed.id, &question, today) {
        Err(refusal) => {
            refusals.push(refusal);
            // What was asked in vain is left out; the rest is answered.
            (question.gap, question.from, question.to) = (None, None, None);
            choose(&snapshot, &told.report, bed.id, &question, today)
        }
        answered => answered,
    };
    let answer = answered
        .map_err(Problem::from)?
        .ok_or_else(|| Problem::not_found("The plot of this bed was withdrawn; restore it first."))?;
    let purposes =
        answer.purposes.iter().filter_map(|one| PURPOSES.iter().find(|(_, purpose)| *purpose == one.purpose));
    let asked = ask.query.text("purpose").is_some();
    let mut form = ask
        .form_from_query(FIELDS)
        .with("from", answer.gap.from.to_string())
        .with("to", answer.gap.to.to_string());
    if !asked {
        form = form.set_all("purpose", purposes.map(|(key, _)| *key));
    }
    for refusal in refusals {
        form.refuse(refusal);
    }
    let shell = ask.shell(Section::Farm, format!("A cover for {}", bed.body.name));
    let lines = |keep: &dyn Fn(&CoverLine) -> bool| -> Vec<Shelf> {
        answer
            .covers
            .iter()
            .filter(|line| keep(line))
            .map(|line| shelf(units, line, &answer, &question))
            .collect()
    };
    let is_best = |line: &CoverLine| answer.best.contains(&line.key);
    Shown::page(ChoosePage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        bed: bed.id,
        best: lines(&is_best),
        others: lines(&|line| !line.ruled_out && !is_best(line)),
        out: lines(&|line| line.ruled_out),
        mixes: answer
            .mixes
            .iter()
            .map(|mix| {
                let parts: Vec<(&str, f64)> =
                    mix.seeds.iter().map(|seed| (seed.cover.as_str(), seed.rate_kg_ha)).collect();
                MixShelf {
                    key: mix.key.clone(),
                    name: mix.name.clone(),
                    lines: tell::mix(mix),
                    sow: sow(units, &answer, &question, &parts, None),
                }
            })
            .collect(),
        answer,
        form,
    })
}

fn question(read: &mut Reader<'_>) -> CoverQuestion {
    let yes = |said: Option<&'static str>| said.map(|said| said == "yes");
    let purposes = read.choices("purpose");
    CoverQuestion {
        gap: read.count("gap").map(usize::from),
        from: read.day("from"),
        to: read.day("to"),
        purposes: PURPOSES
            .iter()
            .filter(|(key, _)| purposes.contains(key))
            .map(|(_, purpose)| *purpose)
            .collect(),
        winter: read.choice("winter").map(|said| match said {
            "killed" => WinterWish::Killed,
            _ => WinterWish::Lives,
        }),
        wet: yes(read.choice("wet")),
        dry: yes(read.choice("dry")),
        drilled: read.tick("drilled"),
    }
}

fn shelf(units: UnitSystem, line: &CoverLine, answer: &CoverAnswer, question: &CoverQuestion) -> Shelf {
    Shelf {
        surely: match line.firmness {
            Surely::Firm => Firmness::Firm,
            Surely::Likely => Firmness::Likely,
            Surely::Open => Firmness::Open,
        },
        ratings: tell::ratings(line),
        course: tell::course(line),
        recalled: tell::recalled(line),
        sow: sow(units, answer, question, &[(&line.key, line.seed.rate_kg_ha)], line.end_by),
        line: line.clone(),
    }
}

/// The form of a cover with everything filled in.
fn sow(
    units: UnitSystem,
    answer: &CoverAnswer,
    question: &CoverQuestion,
    parts: &[(&str, f64)],
    end_by: Option<jiff::civil::Date>,
) -> String {
    let mut query = form_urlencoded::Serializer::new(String::new());
    query.append_pair("bed", &answer.bed.bed.to_string());
    for (at, (cover, kg_ha)) in parts.iter().enumerate() {
        query.append_pair(&format!("cover_{}", at + 1), cover);
        query.append_pair(&format!("rate_{}", at + 1), &area_rate_words(*kg_ha, units));
    }
    query.append_pair("sown_on", &answer.gap.from.to_string());
    query.append_pair("sown", if question.drilled { "drilled" } else { "broadcast" });
    if let Some(day) = end_by {
        query.append_pair("end_by", &day.to_string());
    }
    format!("/cover-crops/new?{}", query.finish())
}
