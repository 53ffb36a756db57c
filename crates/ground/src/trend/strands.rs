//! Which readings of a series compare wherever they stand in it: one reading at another laboratory does not part those
//! before it from those behind it.

use super::breaks::{Circumstances, SAME_DEPTH_CM};
use crate::kit::Bounded;

/// Readings made alike.
#[derive(Debug, Default)]
struct Strand {
    laboratory: Option<String>,
    procedure: Option<String>,
    /// That of the first of them: small steps from reading to reading add up.
    layer_cm: Option<[f64; 2]>,
    places: Vec<usize>,
}

fn said(text: Option<&String>) -> Option<String> {
    text.map(|text| text.trim().to_lowercase()).filter(|text| !text.is_empty())
}

fn alike(one: Option<&String>, other: Option<&String>) -> bool {
    one.zip(other).is_none_or(|(one, other)| one == other)
}

impl Strand {
    fn takes(&self, now: &Self) -> bool {
        alike(self.laboratory.as_ref(), now.laboratory.as_ref())
            && alike(self.procedure.as_ref(), now.procedure.as_ref())
            && self.layer_cm.zip(now.layer_cm).is_none_or(|(one, other)| {
                one.iter().zip(&other).all(|(one, other)| (one - other).abs() <= SAME_DEPTH_CM)
            })
    }

    fn join(&mut self, now: Self) {
        self.laboratory = self.laboratory.take().or(now.laboratory);
        self.procedure = self.procedure.take().or(now.procedure);
        self.layer_cm = self.layer_cm.or(now.layer_cm);
        self.places.extend(now.places);
    }
}

/// Places, from 0, of the readings of each laboratory, procedure and layer, by their first; what a reading leaves unsaid is
/// taken to be as at the reading before it, and months and cores part nothing.
#[must_use]
pub fn strands(series: &[Circumstances]) -> Vec<Vec<usize>> {
    let mut found: Vec<Strand> = Vec::new();
    let (mut laboratory, mut procedure, mut layer_cm) = (None, None, None);
    for (place, now) in series.iter().enumerate() {
        laboratory = said(now.laboratory.as_ref()).or(laboratory);
        procedure = said(now.procedure.as_ref()).or(procedure);
        layer_cm = now.from_cm.zip(now.to_cm).map(|(top, bottom)| [top.get(), bottom.get()]).or(layer_cm);
        let now = Strand {
            laboratory: laboratory.clone(),
            procedure: procedure.clone(),
            layer_cm,
            places: vec![place],
        };
        // The one that was read last comes first, where a reading fits several.
        let fits =
            found.iter_mut().filter(|strand| strand.takes(&now)).max_by_key(|one| one.places.last().copied());
        match fits {
            Some(strand) => strand.join(now),
            None => found.push(now),
        }
    }
    found.into_iter().map(|strand| strand.places).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trend::breaks::ReadingDepth;

    fn at(laboratory: &str, to_cm: f64) -> Circumstances {
        Circumstances {
            laboratory: (!laboratory.is_empty()).then(|| laboratory.to_owned()),
            from_cm: Some(ReadingDepth::literal(0.0)),
            to_cm: Some(ReadingDepth::literal(to_cm)),
            ..Circumstances::default()
        }
    }

    /// SoilTestRepeat: the same laboratory and the same depth every time; what another one reads in between changes nothing
    /// of that.
    #[test]
    fn one_reading_elsewhere_parts_nothing() {
        let series =
            [at("A", 15.0), at("B", 15.0), at("a ", 16.0), at("A", 30.0), at("A", 14.0), at("B", 15.0)];
        assert_eq!(strands(&series), [vec![0, 2, 4], vec![1, 5], vec![3]]);
    }

    #[test]
    fn what_is_unsaid_is_as_before_and_depths_that_creep_are_held_against_the_first() {
        assert_eq!(
            strands(&[at("", 15.0), at("A", 15.0), at("", 15.0), at("B", 15.0)]),
            [vec![0, 1, 2], vec![3]]
        );
        assert_eq!(strands(&[at("A", 15.0), at("A", 18.0), at("A", 21.0)]), [vec![0, 1], vec![2]]);
        assert!(strands(&[]).is_empty());
    }
}
