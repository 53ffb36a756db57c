//! The calendar of crops and covers, a picture a plot.

use advice::covers::{BedYear, Stands};
use advice::work::Season;
use figures::Figure;
use figures::calendar::{Bar, CoverCalendar, MOST_ROWS, Mark, Row, Standing, cover_calendar};
use jiff::civil::Date;

/// Days of the picture before a day.
fn place(first: Date, day: Date) -> f64 {
    f64::from(first.until(day).map_or(0, |span| span.get_days()))
}

/// Twelve months from the first of this one, for the beds of one plot; several pictures where it has very many.
pub(super) fn calendars(id: &str, beds: &[&BedYear], season: &Season, today: Date) -> Vec<Figure> {
    let first = today.first_of_month();
    let marks = [
        Mark { label: "today", day: place(first, today) },
        Mark { label: "usual last frost", day: place(first, season.last_frost_after(first)) },
        Mark { label: "usual first frost", day: place(first, season.first_frost_after(first)) },
    ];
    let marks = if season.frosts_known { &marks[..] } else { &marks[..1] };
    beds.chunks(MOST_ROWS)
        .enumerate()
        .map(|(at, beds)| {
            let bars: Vec<Vec<Bar<'_>>> = beds
                .iter()
                .map(|bed| {
                    let bar = |span: &advice::covers::Span| {
                        (span.stands, place(first, span.from), place(first, span.to))
                    };
                    bed.spans
                        .iter()
                        .map(|span| {
                            let (stands, from_d, to_d) = bar(span);
                            let standing = match stands {
                                Stands::Crop => Standing::Crop,
                                Stands::Cover => Standing::Cover,
                                Stands::Mulch => Standing::Mulch,
                            };
                            Bar { label: &span.name, standing, from_d, to_d }
                        })
                        .collect()
                })
                .collect();
            let rows: Vec<Row<'_>> =
                beds.iter().zip(&bars).map(|(bed, bars)| Row { label: &bed.name, bars }).collect();
            cover_calendar(&CoverCalendar {
                id: &format!("{id}-{at}"),
                first_month: first.month().unsigned_abs(),
                months: 12,
                rows: &rows,
                marks,
            })
        })
        .collect()
}
