//! The odds of each texture class as level bars.

use ground::texture::Class;

use crate::canvas::{Canvas, LETTER, Side, WIDTH, px, rectangle};
use crate::figure::{Figure, Table};
use crate::palette::Stuff;
use crate::words::{list, percent};

/// Classes below these odds share one bar.
const WORTH_A_BAR: f64 = 0.02;
const ROW: f64 = 22.0;
const NAMES: f64 = 112.0;
const BARS: f64 = 150.0;

/// Bars for the odds of each class, the likeliest on top; classes under 2 % share one bar.
///
/// `id` is the picture's own id on its page. Odds are shares of 1; what is not finite or below
/// zero counts as nothing.
///
/// ```
/// use ground::texture::Class;
/// let figure = figures::odds::class_odds("odds", &[(Class::Loam, 0.7), (Class::ClayLoam, 0.3)]);
/// assert!(figure.description.starts_with("Most likely loam, 70 %; then clay loam, 30 %"));
/// ```
#[must_use]
pub fn class_odds(id: &str, odds: &[(Class, f64)]) -> Figure {
    let mut sorted: Vec<(Class, f64)> =
        odds.iter().copied().filter(|(_, share)| share.is_finite() && *share > 0.0).collect();
    sorted.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    let mut table = Table::new(["Texture class", "Odds"]);
    for (class, share) in &sorted {
        table.row([class.name().to_owned(), percent(*share)]);
    }
    let (shown, rest): (Vec<_>, Vec<_>) = sorted.iter().partition(|(_, share)| *share >= WORTH_A_BAR);
    let mut bars: Vec<(&str, f64)> = shown.iter().map(|(class, share)| (class.name(), *share)).collect();
    if !rest.is_empty() {
        bars.push((if rest.len() == 1 { "one other" } else { "all others" }, rest.iter().map(|b| b.1).sum()));
    }

    let title = "Odds of each texture class".to_owned();
    let description = describe(&shown, &rest);
    if bars.is_empty() {
        let mut canvas = Canvas::new(id, "odds", WIDTH, ROW);
        canvas.text((0.0, 15.0), Side::Start, LETTER, "Nothing is known yet");
        return canvas.finish(title, description, table);
    }
    let height = bars.len() as f64 * ROW + 4.0;
    let mut canvas = Canvas::new(id, "odds", WIDTH, height);
    let scale = BARS / bars.iter().map(|bar| bar.1).fold(0.0, f64::max).max(0.5);
    for (row, (name, share)) in bars.iter().enumerate() {
        let y = row as f64 * ROW + 2.0;
        let middle = y + ROW / 2.0 + 4.0;
        if row == 0 {
            canvas.bold((NAMES - 6.0, middle), Side::End, LETTER, name);
        } else {
            canvas.text((NAMES - 6.0, middle), Side::End, LETTER, name);
        }
        let length = (share * scale).max(1.0);
        canvas.shape(rectangle(NAMES, y + 3.0, px(length), ROW - 7.0), Stuff::Belief, 0.8);
        canvas.text((NAMES + length + 6.0, middle), Side::Start, LETTER, &percent(*share));
    }
    canvas.line((NAMES, 0.0), (NAMES, height), 1.0);
    canvas.finish(title, description, table)
}

fn describe(shown: &[(Class, f64)], rest: &[(Class, f64)]) -> String {
    let Some(((first, share), others)) = shown.split_first() else {
        return "No odds to show: nothing is known of this ground yet.".to_owned();
    };
    let mut said = format!("Most likely {}, {}", first.name(), percent(*share));
    if !others.is_empty() {
        let others: Vec<String> =
            others.iter().map(|(class, share)| format!("{}, {}", class.name(), percent(*share))).collect();
        said.push_str(&format!("; then {}", others.join("; ")));
    }
    said.push('.');
    if !rest.is_empty() {
        let names: Vec<String> = rest.iter().map(|(class, _)| class.name().to_owned()).collect();
        let sum: f64 = rest.iter().map(|bar| bar.1).sum();
        said.push_str(&format!(" {} together {}.", crate::words::sentence(&list(&names)), percent(sum)));
    }
    said
}
