//! Pictures of the farmer's own under the plan.

use advice::plan::{FarmPlan, keep_origin, typed_place};
use askama::Template;
use book::model::{FixedPoint, Frame, Opacity, Photo, Point, Underlay};
use book::{Held, Snapshot};
use ground::kit::quantity::number;
use ground::kit::refusal::bounded;
use ground::kit::units::{Dimension, UnitSystem, show as show_measure};
use ground::kit::{Bounded, Refusal};
use ground::spatial::picture_fix::fix_picture;
use serde::Serialize;
use serde_json::Value;

use super::picture_size::size_px;
use super::{FixedTold, UnderlayTold};
use crate::ask::Ask;
use crate::form::{Field, Form, Width};
use crate::problem::Problem;
use crate::route::{Outcome, Shown};
use crate::shell::{Section, Shell};

pub(super) const FIELDS: &[Field] = &[
    Field { optional: false, ..Field::picture("picture", "Picture", "A scanned map or a picture from the air: JPEG, PNG, WebP or GIF of up to 32 MB") },
    Field::text("name", "What it is", "For example the farm from the air, 2024").width(Width::Middle),
    Field::lines(
        "spots",
        "Two or three spots whose place is known",
        "One a line: pixels from the left and from the top, an equals sign, and the place. 1200, 340 = 120 ft, 40 ft or 1200, 340 = 42.5012, -93.4987. May be done later, or by tapping on the plan",
    )
    .optional(),
];

pub(super) const FIXED: &[Field] =
    &[FIELDS[2], Field::hidden("revision").optional(), Field::hidden("opacity_percent").optional()];

#[derive(Template, Serialize)]
#[template(path = "plan/underlay.html")]
struct UnderlayPage {
    #[serde(skip)]
    shell: Shell,
    form: Form,
    #[serde(skip)]
    to: String,
    #[serde(skip)]
    of: Option<UnderlayTold>,
}

fn page(ask: &Ask, form: Form, of: Option<UnderlayTold>) -> UnderlayPage {
    let shell = ask.shell(Section::Farm, "A picture under the plan");
    UnderlayPage {
        shell: if form.is_refused() { shell.refused() } else { shell },
        form,
        to: of
            .as_ref()
            .map_or_else(|| "/plan/underlays".to_owned(), |of| format!("/plan/underlays/{}", of.id)),
        of,
    }
}

pub(super) fn show(ask: &Ask) -> Outcome {
    ask.desk()?;
    Shown::page(page(ask, ask.form(FIELDS), None))
}

/// A picture as the plan tells it.
pub(super) fn told(held: &Held<Underlay>, plan: &FarmPlan, system: UnitSystem) -> UnderlayTold {
    let body = &held.body;
    let fixed: Vec<FixedTold> = body
        .fixed
        .iter()
        .filter_map(|point| {
            Some(FixedTold { x_px: point.x_px, y_px: point.y_px, at: plan.place(point.frame, point.at)? })
        })
        .collect();
    let pairs: Vec<(Point, Point)> = fixed.iter().map(|point| ([point.x_px, point.y_px], point.at)).collect();
    let fix = fix_picture(&pairs);
    let told = match &fix {
        Ok(fix) => {
            let scale = show_measure(fix.m_per_px, Dimension::Length, system);
            match fix.residual_m {
                Some(residual) => format!(
                    "One pixel stands for {scale}. Without stretching the picture its three points miss by {}.",
                    show_measure(residual, Dimension::Length, system)
                ),
                None => format!("One pixel stands for {scale}. A third point would show how well they fit."),
            }
        }
        Err(_) if pairs.is_empty() => {
            "It is not fixed yet: two or three spots whose place is known fix it.".to_owned()
        }
        Err(refusal) => format!("It is not fixed: {}.", refusal.message),
    };
    let spots = spots_words(&fixed, system);
    UnderlayTold {
        id: held.id,
        revision: held.number,
        name: body.name.clone(),
        url: format!("/plan/underlays/{}/picture", held.id),
        width_px: body.width_px,
        height_px: body.height_px,
        corners: fix.ok().map(|fix| fix.corners(f64::from(body.width_px), f64::from(body.height_px))),
        opacity_percent: body.opacity_percent.map_or(60.0, Bounded::get),
        fixed,
        spots,
        told,
    }
}

/// The spots as they are typed.
fn spots_words(fixed: &[FixedTold], system: UnitSystem) -> String {
    let pixels = |value: f64| number((value * 10.0).round() / 10.0);
    let line = |spot: &FixedTold| {
        let place = super::form::corners_words(&book::model::Form::Point { at: spot.at }, system);
        format!("{}, {} = {place}", pixels(spot.x_px), pixels(spot.y_px))
    };
    fixed.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// "1200, 340 = 120 ft, 40 ft", one a line, as they are kept.
fn spots(
    text: &str,
    width_px: u32,
    snapshot: &Snapshot,
    plan: &FarmPlan,
    system: UnitSystem,
) -> Result<(Vec<FixedPoint>, Vec<String>), Refusal> {
    let mut fixed = Vec::new();
    let mut remarks = Vec::new();
    for (row, line) in text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty()) {
        let refused = |why: &str| {
            Refusal::new("spots", format!("Line {}: {why}", row + 1))
                .given(line.trim().chars().take(80).collect::<String>())
                .accepted("pixels from the left and from the top, an equals sign, and the place")
                .example("1200, 340 = 120 ft, 40 ft")
        };
        let (pixel, place) = line.split_once('=').ok_or_else(|| refused("there is no equals sign"))?;
        let numbers: Vec<f64> = pixel
            .split([',', ';', ' '])
            .filter(|part| !part.trim().is_empty())
            .filter_map(|part| part.trim().parse().ok())
            .collect();
        let [x_px, y_px] = numbers[..] else { return Err(refused("two numbers of pixels are needed")) };
        let (at, said) = typed_place("spots", place.trim(), snapshot, plan, system)?;
        remarks.extend(said.into_iter().map(|remark| format!("Line {}: {remark}", row + 1)));
        fixed.push(kept_point(plan, x_px, y_px, at));
    }
    Ok((checked(fixed, plan, width_px, system)?, remarks))
}

/// The places of the spots, which may be degrees.
fn places(text: &str) -> Vec<&str> {
    text.lines().filter_map(|line| line.split_once('=')).map(|(_, place)| place.trim()).collect()
}

fn kept_point(plan: &FarmPlan, x_px: f64, y_px: f64, at: Point) -> FixedPoint {
    match plan.frame() {
        Some(local) => FixedPoint { x_px, y_px, frame: Frame::Wgs84, at: local.to_degrees(at) },
        None => FixedPoint { x_px, y_px, frame: Frame::Metres, at },
    }
}

/// A picture of ground is at least so wide: what comes out smaller was fixed by degrees read as distances, or by a slip.
const LEAST_WIDTH_M: f64 = 1.0;

fn checked(
    fixed: Vec<FixedPoint>,
    plan: &FarmPlan,
    width_px: u32,
    system: UnitSystem,
) -> Result<Vec<FixedPoint>, Refusal> {
    if !fixed.is_empty() {
        let pairs: Vec<(Point, Point)> = fixed
            .iter()
            .filter_map(|point| Some(([point.x_px, point.y_px], plan.place(point.frame, point.at)?)))
            .collect();
        let fix = fix_picture(&pairs).map_err(|refusal| Refusal { field: "spots".to_owned(), ..refusal })?;
        let width_m = fix.m_per_px * f64::from(width_px);
        if width_m < LEAST_WIDTH_M {
            let least = show_measure(LEAST_WIDTH_M, Dimension::Length, system);
            return Err(Refusal::new(
                "spots",
                format!(
                    "By these spots the whole picture would be {} wide: are they degrees, or too near each other?",
                    show_measure(1000.0 * width_m, Dimension::SmallLength, system)
                ),
            )
            .given(format!("{} spots", pairs.len()))
            .accepted(format!("spots by which the picture is at least {least} wide; degrees with their letters"))
            .example("1200, 340 = 42.5012 N, 93.4987 W"));
        }
    }
    Ok(fixed)
}

pub(super) fn add(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let mut read = ask.reader(FIELDS);
    let file = ask.files.iter().find(|file| file.field == "picture");
    let bytes = file.map_or(&[][..], |file| &file.bytes);
    let media_type = Photo::media_type_of(bytes).map_err(|refusal| Refusal {
        field: "picture".to_owned(),
        message: format!(
            "Picture: {}. Make it smaller or choose another; what you wrote is still here",
            refusal.message
        ),
        ..refusal
    });
    let media_type = read.take(media_type);
    let size = media_type.and_then(|_| {
        read.take(size_px(bytes).ok_or_else(|| {
            Refusal::new("picture", "Picture: its width and height cannot be read; the file may be cut short")
                .given("a picture without a size")
                .accepted("a whole JPEG, PNG, WebP or GIF file")
                .example("a picture that opens in a browser")
        }))
    });
    let name = read.text("name").map(str::to_owned);
    let text = read.lines("spots");
    let plan = plan.fixed_by(&snapshot, &places(&text));
    // Without its width there is no picture to fix, and that is told by itself.
    let wide = size.map_or(u32::MAX, |(width_px, _)| width_px);
    let fixed = read.take(spots(&text, wide, &snapshot, &plan, ask.units()));
    let again = |form: Form| page(ask, form, None);
    let (Some(media_type), Some((width_px, height_px)), Some(name), Some((fixed, remarks))) =
        (media_type, size, name, fixed)
    else {
        return Err(read.refused(again));
    };
    let kept = ask.write(|book, stamp| {
        book.write(|writing| {
            let said = keep_origin(writing, &snapshot, &plan, stamp)?;
            let sha256 = writing.attach(bytes, media_type)?;
            let media_type = media_type.to_owned();
            let note = String::new();
            let kept = writing.record(
                Underlay {
                    name,
                    sha256,
                    media_type,
                    width_px,
                    height_px,
                    fixed,
                    opacity_percent: None,
                    note,
                },
                stamp,
            )?;
            Ok((kept, said))
        })
    })?;
    let (kept, fixed_plan) = read.kept(kept, again)?;
    let said = ask.desk()?.say(remarks.into_iter().chain(fixed_plan).collect());
    Shown::kept(format!("/plan?done=kept{said}#pictures"), serde_json::json!({ "id": kept.id }))
}

fn underlay<'a>(ask: &Ask, snapshot: &'a Snapshot) -> Result<&'a Held<Underlay>, Problem> {
    let id = ask.entry("id")?;
    snapshot
        .underlays
        .iter()
        .find(|held| held.id == id)
        .ok_or_else(|| Problem::not_found("No picture of that identity lies under the plan."))
}

pub(super) fn fix(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let plan = FarmPlan::of(&snapshot);
    let held = underlay(ask, &snapshot)?;
    let number = super::parts::revision(ask, held.number)?;
    let mut body = held.body.clone();
    if let Some(text) = ask.body.text("opacity_percent") {
        let percent: f64 = text.parse().unwrap_or(f64::NAN);
        body.opacity_percent = Some(bounded::<Opacity>("opacity_percent", percent)?);
    }
    let plan = plan.fixed_by(&snapshot, &places(ask.body.text("spots").unwrap_or_default()));
    let mut read = ask.reader(FIXED);
    let shown = spots_words(&told(held, &plan, ask.units()).fixed, ask.units());
    let fixed = match (ask.json.as_ref(), ask.json.as_ref().and_then(|json| json.get("fixed"))) {
        (_, Some(fixed)) => {
            from_json(fixed, &plan, body.width_px, ask.units()).map(|fixed| (fixed, Vec::new()))
        }
        // What was not sent, or was left as it was shown, stays with every digit.
        (Some(_), None) => Ok((body.fixed.clone(), Vec::new())),
        (None, None) => match read.lines("spots") {
            text if text.trim() == shown => Ok((body.fixed.clone(), Vec::new())),
            text => spots(&text, body.width_px, &snapshot, &plan, ask.units()),
        },
    };
    let again = |form: Form| page(ask, form, Some(told(held, &plan, ask.units())));
    let Some((fixed, remarks)) = read.take(fixed).filter(|_| !read.is_refused()) else {
        return Err(read.refused(again));
    };
    body.fixed = fixed;
    let kept = ask.write(|book, stamp| {
        book.write(|writing| {
            let said = keep_origin(writing, &snapshot, &plan, stamp)?;
            Ok((writing.revise(held.id, number, body, "fixed on the plan", stamp)?, said))
        })
    })?;
    let (kept, fixed_plan) = read.kept(kept, again)?;
    let said = ask.desk()?.say(remarks.into_iter().chain(fixed_plan).collect());
    Shown::kept(
        format!("/plan?done=kept{said}#pictures"),
        serde_json::json!({ "id": kept.id, "revision": kept.number }),
    )
}

fn from_json(
    fixed: &Value,
    plan: &FarmPlan,
    width_px: u32,
    system: UnitSystem,
) -> Result<Vec<FixedPoint>, Refusal> {
    #[derive(serde::Deserialize)]
    struct Given {
        x_px: f64,
        y_px: f64,
        at: Point,
    }
    let given: Vec<Given> = serde_json::from_value(fixed.clone()).map_err(|error| {
        Refusal::new("fixed", format!("these are not known spots: {error}"))
            .given(fixed.to_string().chars().take(80).collect::<String>())
            .accepted("a list of { x_px, y_px, at: [metres east, metres north] }")
            .example(r#"[{"x_px": 10, "y_px": 10, "at": [0, 0]}]"#)
    })?;
    let fixed = given.into_iter().map(|one| kept_point(plan, one.x_px, one.y_px, one.at)).collect();
    checked(fixed, plan, width_px, system)
}

pub(super) fn remove(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let held = underlay(ask, &snapshot)?;
    let from = super::parts::revision(ask, held.number)?;
    let kept =
        ask.write(|book, stamp| book.withdraw(held.id, from, "taken from under the plan", stamp))??;
    Shown::kept("/plan?done=withdrawn", serde_json::json!({ "id": kept.id, "revision": kept.number }))
}

pub(super) fn picture(ask: &Ask) -> Outcome {
    let snapshot = ask.snapshot()?;
    let held = underlay(ask, &snapshot)?;
    let file = ask.desk()?.book().attachment(&held.body.sha256)?;
    // What is no picture by its content is never shown in place.
    let sound = Photo::media_type_of(&file.bytes).is_ok();
    Ok(Shown::File {
        media_type: if sound { file.media_type } else { "application/octet-stream".to_owned() },
        name: (!sound).then(|| format!("{}.bin", number(f64::from(held.number)))),
        bytes: file.bytes,
    })
}
