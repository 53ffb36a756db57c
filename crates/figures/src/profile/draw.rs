//! The picture itself.

use ground::kit::Spread;
use svg::node::element::Path;

use super::{Amount, DRAINING, GroundProfile, Layer, UNUSABLE, USABLE, WaterAt, said};
use crate::callout::{self, Callout};
use crate::canvas::{At, Canvas, LETTER, SMALL, Side, WIDTH, line, path, rectangle};
use crate::chart::{self, Scale};
use crate::measures::{Shown, is_depth};
use crate::palette::{PAPER, Stuff};
use crate::words::{number, round_steps, wrapped};

const LEFT: f64 = 42.0;
const RIGHT: f64 = 206.0;
const TOP: f64 = 44.0;
const DEEP: f64 = 260.0;
const NAMES: f64 = 228.0;
const SUM_LINES: f64 = 32.0;

/// Water contents are drawn from 0 to at least 60 %.
fn content_scale(layers: &[&Layer<'_>]) -> Scale {
    let most = layers.iter().map(|layer| layer.saturation_m3_m3.high).fold(0.0, f64::max);
    Scale { from: 0.0, to: chart::content_top(most), start: LEFT, end: RIGHT }
}

fn depth_scale(profile: &GroundProfile<'_>, layers: &[&Layer<'_>]) -> Scale {
    let bottom = layers.iter().map(|layer| layer.bottom_cm).fold(0.0, f64::max);
    // A water table a little below the layers still belongs in the picture.
    let lines = [profile.root_depth_cm, profile.water_table_cm];
    let to = lines.iter().flatten().copied().filter(|at| *at < bottom * 1.25).fold(bottom, f64::max);
    let to = if to > bottom { to + bottom * 0.04 } else { to };
    Scale { from: 0.0, to, start: TOP, end: TOP + DEEP }
}

pub(super) fn draw(profile: &GroundProfile<'_>, layers: &[&Layer<'_>]) -> Canvas {
    let mut canvas = Canvas::new(profile.id, "profile", WIDTH, TOP + DEEP);
    let (x, y) = (content_scale(layers), depth_scale(profile, layers));
    for layer in layers {
        areas(&mut canvas, layer, &x, &y);
    }
    now(&mut canvas, profile.now, layers, &x, &y);
    let mut labels = Vec::new();
    for layer in layers {
        let (top, bottom) = (y.at(layer.top_cm), y.at(layer.bottom_cm));
        canvas.line((LEFT, bottom), (RIGHT, bottom), 1.4);
        whiskers(&mut canvas, layer, &x, top, bottom);
        labels.push(label(layer, profile, f64::midpoint(top, bottom)));
    }
    axes(&mut canvas, profile, &x, &y);
    levels(&mut canvas, profile, layers, &y);
    callout::draw(&mut canvas, labels, NAMES, TOP - 6.0, TOP + DEEP + 8.0);
    let end = sums(&mut canvas, profile, TOP + DEEP + 18.0);
    canvas.tall(end);
    canvas
}

fn areas(canvas: &mut Canvas, layer: &Layer<'_>, x: &Scale, y: &Scale) {
    let (top, bottom) = (y.at(layer.top_cm), y.at(layer.bottom_cm));
    let mut from = LEFT;
    for (stuff, upto) in [
        (Stuff::Unusable, layer.wilting_point_m3_m3),
        (Stuff::Usable, layer.field_capacity_m3_m3),
        (Stuff::Draining, layer.saturation_m3_m3),
    ] {
        let to = x.at(upto.median);
        if to > from {
            canvas.shape(rectangle(from, top, to - from, bottom - top), stuff, 0.0);
        }
        canvas.line((to, top), (to, bottom), 1.2);
        from = from.max(to);
    }
}

/// The 90 % range of each edge, one below the other so that they stay apart where ranges overlap.
fn whiskers(canvas: &mut Canvas, layer: &Layer<'_>, x: &Scale, top: f64, bottom: f64) {
    let tall = (bottom - top).min(60.0);
    if tall < 10.0 {
        return;
    }
    let cap = (tall / 8.0).min(4.0);
    let mut whisker = |spread: Spread, share: f64| {
        let at = f64::midpoint(top, bottom) + tall * (share - 0.5);
        let (from, to) = (x.at(spread.low), x.at(spread.high));
        let strokes =
            [((from, at), (to, at)), ((from, at - cap), (from, at + cap)), ((to, at - cap), (to, at + cap))];
        for (a, b) in strokes {
            canvas.add(line(a, b, 3.6).set("stroke", PAPER).set("class", "figure-rim"));
        }
        for (a, b) in strokes {
            canvas.line(a, b, 1.4);
        }
    };
    whisker(layer.wilting_point_m3_m3, 0.25);
    whisker(layer.field_capacity_m3_m3, 0.5);
    whisker(layer.saturation_m3_m3, 0.75);
}

/// The water line as it runs through one layer, from its top to its bottom.
fn through(now: &[WaterAt], top_cm: f64, bottom_cm: f64) -> Vec<WaterAt> {
    let between = |depth_cm: f64| {
        now.windows(2).find(|pair| (pair[0].depth_cm..=pair[1].depth_cm).contains(&depth_cm)).map(|pair| {
            let gap = pair[1].depth_cm - pair[0].depth_cm;
            let share = if gap > 0.0 { (depth_cm - pair[0].depth_cm) / gap } else { 0.0 };
            let water_m3_m3 = pair[0].water_m3_m3 + (pair[1].water_m3_m3 - pair[0].water_m3_m3) * share;
            WaterAt { depth_cm, water_m3_m3 }
        })
    };
    let inner = now.iter().copied().filter(|at| at.depth_cm > top_cm && at.depth_cm < bottom_cm);
    between(top_cm).into_iter().chain(inner).chain(between(bottom_cm)).collect()
}

/// The water in it now, and the air it leaves.
fn now(canvas: &mut Canvas, now: &[WaterAt], layers: &[&Layer<'_>], x: &Scale, y: &Scale) {
    let known = |at: &&WaterAt| is_depth(at.depth_cm) && (0.0..=1.0).contains(&at.water_m3_m3);
    let mut now: Vec<WaterAt> = now.iter().filter(known).copied().collect();
    now.sort_by(|a, b| a.depth_cm.total_cmp(&b.depth_cm));
    for layer in layers {
        let full = x.at(layer.saturation_m3_m3.median);
        let wet: Vec<At> = through(&now, layer.top_cm, layer.bottom_cm)
            .iter()
            .map(|at| (x.at(at.water_m3_m3).min(full), y.at(at.depth_cm)))
            .collect();
        if let (Some(first), Some(last)) = (wet.first(), wet.last())
            && wet.len() > 1
        {
            let air: Vec<At> = wet.iter().copied().chain([(full, last.1), (full, first.1)]).collect();
            canvas.add(fade(path(&air, true)));
        }
    }
    let bottom = layers.iter().map(|layer| layer.bottom_cm).fold(0.0, f64::max);
    let line: Vec<At> =
        through(&now, 0.0, bottom).iter().map(|at| (x.at(at.water_m3_m3), y.at(at.depth_cm))).collect();
    if line.len() > 1 {
        canvas.add(heavy(&line, 6.0).set("stroke", PAPER).set("class", "figure-rim"));
        canvas.add(heavy(&line, 3.0).set("stroke", crate::palette::INK));
    }
}

fn fade(data: String) -> Path {
    Path::new().set("d", data).set("fill", PAPER).set("class", "figure-paper").set("fill-opacity", 0.68)
}

fn heavy(points: &[At], width: f64) -> Path {
    Path::new()
        .set("d", path(points, false))
        .set("fill", "none")
        .set("stroke-width", width)
        .set("stroke-linejoin", "round")
}

fn label(layer: &Layer<'_>, profile: &GroundProfile<'_>, middle: f64) -> Callout {
    let depth = Shown::depth(profile.system);
    let mut lines = wrapped(layer.name, WIDTH - NAMES, LETTER, 2).into_iter();
    let name = lines.next().unwrap_or_else(|| "layer".to_owned());
    let mut more: Vec<String> = lines.collect();
    more.push(format!("{} to {}", depth.number(layer.top_cm), depth.say(layer.bottom_cm)));
    Callout { at: (RIGHT, middle), name, more }
}

fn axes(canvas: &mut Canvas, profile: &GroundProfile<'_>, x: &Scale, y: &Scale) {
    let depth = Shown::depth(profile.system);
    canvas.text((0.0, 11.0), Side::Start, SMALL, &format!("depth, {}", depth.unit));
    canvas.text((RIGHT, 11.0), Side::End, SMALL, "water, % by volume");
    canvas.trace(path(&[(LEFT, TOP + DEEP), (LEFT, TOP), (RIGHT, TOP)], false), 1.6);
    chart::content_ticks(canvas, x, TOP, false, if x.to > 0.6 { 20 } else { 10 });
    let deepest = depth.convert(y.to);
    let (step, count) = round_steps(deepest, 7.0);
    for n in 0..=count {
        let value = step * n as f64;
        if value > deepest * 1.001 {
            break;
        }
        let at = y.start + (y.end - y.start) * value / deepest;
        canvas.line((LEFT - 5.0, at), (LEFT, at), 1.0);
        canvas.text((LEFT - 8.0, at + 4.0), Side::End, SMALL, &number(value));
    }
}

/// The root depth and the water table, their names clear of one another.
fn levels(canvas: &mut Canvas, profile: &GroundProfile<'_>, layers: &[&Layer<'_>], y: &Scale) {
    let depth = Shown::depth(profile.system);
    let place = |at: Option<f64>| at.filter(|at| is_depth(*at) && *at <= y.to);
    let (roots, table) = (place(profile.root_depth_cm), place(profile.water_table_cm));
    let near = |a: f64, b: f64| (y.at(a) - y.at(b)).abs() < 30.0;
    let both = roots.zip(table).filter(|(roots, table)| near(*roots, *table));
    // The deeper of two near lines is named below, the other above.
    let name = |canvas: &mut Canvas, at: f64, deeper: bool, words: &str| {
        let place = y.at(at);
        let fits = place + 18.0 < y.end;
        // A boundary of layers right above would lie under the name.
        let covers = |edge: f64| (place - 20.0..place - 1.0).contains(&y.at(edge));
        let edge_above = both.is_none() && layers.iter().any(|layer| covers(layer.bottom_cm));
        let below = place < y.start + 16.0 || (fits && (deeper || edge_above));
        canvas.plated((RIGHT - 4.0, place + if below { 15.0 } else { -6.0 }), Side::End, LETTER, words);
    };
    let deeper = |a: f64, b: Option<f64>| both.is_some() && b.is_some_and(|b| a > b);
    if let Some(at) = roots {
        canvas.dashed((LEFT - 4.0, y.at(at)), (RIGHT, y.at(at)), 2.2, "7 4");
        name(canvas, at, deeper(at, table), &format!("roots to {}", depth.say(at)));
    }
    if let Some(at) = table {
        canvas.line((LEFT - 4.0, y.at(at)), (RIGHT, y.at(at)), 2.4);
        let tip = (LEFT + 12.0, y.at(at) - 1.0);
        let sign = [(tip.0 - 6.0, tip.1 - 9.0), (tip.0 + 6.0, tip.1 - 9.0), tip];
        canvas.add(Path::new().set("d", path(&sign, true)).set("fill", PAPER).set("class", "figure-paper"));
        canvas.shape(path(&sign, true), Stuff::Water, 1.4);
        let words = format!("water table {}", depth.say(at));
        name(canvas, at, table == roots || deeper(at, roots), &words);
    }
}

/// The key, with what each area holds where the sums are known; returns where it ends.
fn sums(canvas: &mut Canvas, profile: &GroundProfile<'_>, top: f64) -> f64 {
    let mut y = top;
    if let Some(sums) = &profile.sums {
        let words =
            format!("Water from the surface down to {}", Shown::depth(profile.system).say(sums.to_depth_cm));
        canvas.text((0.0, y + 10.0), Side::Start, LETTER, &words);
        y += 20.0;
    }
    let of = |part: fn(&super::Sums) -> Amount| profile.sums.as_ref().map(part);
    let rows = [
        (Stuff::Draining, DRAINING, of(|sums| sums.draining)),
        (Stuff::Usable, USABLE, of(|sums| sums.usable)),
        (Stuff::Unusable, UNUSABLE, of(|sums| sums.unusable)),
    ];
    for (stuff, name, amount) in rows {
        chart::swatch(canvas, (0.0, y), stuff);
        match amount.and_then(|amount| said(&amount, profile.system)) {
            Some((middle, range)) => {
                canvas.bold((24.0, y + 9.0), Side::Start, LETTER, &format!("{name}: {middle}"));
                canvas.text((24.0, y + 23.0), Side::Start, SMALL, &range);
                y += SUM_LINES;
            }
            None => {
                canvas.text((24.0, y + 9.0), Side::Start, LETTER, name);
                y += chart::KEY_LINE;
            }
        }
    }
    if !profile.now.is_empty() {
        chart::swatch(canvas, (0.0, y), Stuff::Draining);
        canvas.add(fade(rectangle(0.0, y, chart::SWATCH, 10.0)));
        canvas.line((1.0, y - 2.0), (1.0, y + 12.0), 3.0);
        canvas.text((24.0, y + 9.0), Side::Start, LETTER, "Heavy line: water now; faded: air now");
        y += chart::KEY_LINE;
    }
    y + 2.0
}
