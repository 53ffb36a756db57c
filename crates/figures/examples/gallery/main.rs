//! Writes every figure into one page: `cargo run -p figures --example gallery -- FILE.html`.

mod ground_water;

use figures::triangle::{Cloud, Evidence, Says, Size, Triangle, texture_triangle};
use ground::belief::ilr;
use ground::texture::{Class, Composition};

/// An even sample of a normal cloud in ilr coordinates (a sunflower spiral).
fn cloud(middle: Composition, sd: f64) -> Vec<Composition> {
    let middle = ilr::to_ilr(middle);
    (0..4000)
        .map(|n| {
            let radius = sd * (-2.0 * (1.0 - (f64::from(n) + 0.5) / 4000.0).ln()).sqrt();
            let turn = f64::from(n) * 2.399_963;
            ilr::from_ilr(middle + ilr::Point::new(radius * turn.cos(), 0.7 * radius * turn.sin()))
        })
        .collect()
}

fn main() -> std::io::Result<()> {
    let file = std::env::args().nth(1).unwrap_or_else(|| "gallery.html".to_owned());
    let soil = |sand, silt, clay| Composition { sand, silt, clay };
    let mut figures = Vec::new();
    let weights = vec![1.0; 4000];
    let evidence = [
        Evidence {
            letter: 'A',
            label: "the jar of 3 May",
            says: Says::Point(soil(42.0, 37.0, 21.0)),
            disagrees: false,
        },
        Evidence {
            letter: 'B',
            label: "the jar of 12 May",
            says: Says::Point(soil(39.0, 38.0, 23.0)),
            disagrees: false,
        },
        Evidence {
            letter: 'C',
            label: "the laboratory, 2 June",
            says: Says::Point(soil(20.0, 44.0, 36.0)),
            disagrees: true,
        },
        Evidence {
            letter: 'D',
            label: "by feel, 3 May",
            says: Says::Class(Class::ClayLoam),
            disagrees: false,
        },
    ];
    for (id, middle, sd, evidence, size) in [
        ("plain", soil(40.0, 38.0, 22.0), 0.22, &evidence[..], Size::Full),
        ("sandy", soil(88.0, 8.0, 4.0), 0.4, &[][..], Size::Full),
        ("wide", soil(40.0, 40.0, 20.0), 1.0, &[][..], Size::Full),
        ("thumb", soil(25.0, 60.0, 15.0), 0.3, &[][..], Size::Small),
    ] {
        let draws = cloud(middle, sd);
        let cloud = Some(Cloud::new(&draws, &weights));
        figures.push(texture_triangle(&Triangle { id, cloud, evidence, size }));
    }
    figures.push(texture_triangle(&Triangle { id: "empty", cloud: None, evidence: &[], size: Size::Full }));
    figures.extend(more());
    figures.extend(water());
    figures.extend(jars());
    figures.extend(ground_water::all());

    let mut page =
        format!("<!doctype html><meta charset=utf-8><title>Figures</title><style>{}\n", figures::STYLE);
    page.push_str(
        "body{font-family:Georgia,serif;background:#fffdf7;color:#222;margin:0}figure{margin:0 0 2rem}",
    );
    page.push_str("figcaption{font-weight:bold}</style>");
    for figure in figures {
        page.push_str(&format!(
            "<figure>{}<figcaption>{}</figcaption><p>{}</p><table>",
            figure.svg, figure.title, figure.description
        ));
        for row in std::iter::once(&figure.table.head).chain(&figure.table.rows) {
            page.push_str("<tr>");
            for cell in row {
                page.push_str(&format!("<td>{cell}</td>"));
            }
        }
        page.push_str("</table></figure>");
    }
    std::fs::write(file, page)
}

fn more() -> Vec<figures::Figure> {
    use figures::spread::{Mark, Scale, SpreadBar, spread_bar};
    use ground::kit::Spread;
    let odds = [
        (Class::Loam, 0.62),
        (Class::ClayLoam, 0.21),
        (Class::SandyClayLoam, 0.11),
        (Class::SiltLoam, 0.045),
        (Class::SandyLoam, 0.012),
        (Class::SiltyClayLoam, 0.003),
    ];
    let marks = [Mark { value: 15.0, label: "the drip gives".to_owned() }];
    vec![
        figures::odds::class_odds("odds", &odds),
        spread_bar(&SpreadBar {
            id: "usable",
            name: "Usable water",
            unit: "in per ft",
            spread: Spread { low: 1.31, median: 1.72, high: 2.08 },
            scale: Scale::Even,
            top: Some(3.0),
            marks: &[],
        }),
        spread_bar(&SpreadBar {
            id: "intake",
            name: "Saturated conductivity",
            unit: "mm/h",
            spread: Spread { low: 2.4, median: 11.2, high: 48.0 },
            scale: Scale::Tens,
            top: None,
            marks: &marks,
        }),
    ]
}

fn water() -> Vec<figures::Figure> {
    use figures::moisture::moisture_odds;
    use figures::tank::{WaterDraws, water_tank};
    use ground::kit::units::UnitSystem;
    let spread = |middle: f64, width: f64, turn: f64| -> Vec<f64> {
        (0..2000).map(|n| middle + width * (f64::from(n) * turn).sin()).collect()
    };
    let (wilting_point, field_capacity) = (spread(0.14, 0.03, 2.4), spread(0.28, 0.035, 1.7));
    let (saturation, weights) = (spread(0.46, 0.03, 0.9), vec![1.0; 2000]);
    let available: Vec<f64> =
        field_capacity.iter().zip(&wilting_point).map(|(wet, dry)| 0.92 * (wet - dry)).collect();
    let draws = WaterDraws {
        available: &available,
        wilting_point: &wilting_point,
        field_capacity: &field_capacity,
        saturation: &saturation,
        weights: &weights,
    };
    vec![
        water_tank("tank-us", &draws, UnitSystem::UsCustomary),
        water_tank("tank-si", &draws, UnitSystem::Metric),
        moisture_odds("moisture", &draws, Some(0.19)),
    ]
}

fn jars() -> Vec<figures::Figure> {
    use figures::jar::jar;
    use ground::kit::units::UnitSystem::{Metric, UsCustomary};
    use ground::texture::jar::JarReading;
    let read = |id, json, system| {
        let reading: JarReading = serde_json::from_str(json).expect("the gallery's own readings are sound");
        jar(id, &reading, system).expect("the gallery's own readings agree")
    };
    vec![
        read(
            "jar-plain",
            r#"{"marks":{"read_as":"thicknesses","sand":{"seen":"at","mm":22.2},"silt":{"seen":"at","mm":20.6},
                "clay":{"seen":"at","mm":12.7}},"water_height_mm":165.0,"water_after_a_day":"cloudy","floating_organic_mm":4}"#,
            UsCustomary,
        ),
        read(
            "jar-doubt",
            r#"{"marks":{"read_as":"heights","sand_top":{"seen":"between","low_mm":28,"high_mm":32},
                "silt_top":{"seen":"no"},"clay_top":{"seen":"at","mm":62}},
                "shape":{"kind":"widths","at":[{"height_mm":0,"diameter_mm":60},{"height_mm":90,"diameter_mm":78},{"height_mm":120,"diameter_mm":56}]},
                "water_height_mm":110.0,"water_after_a_day":"clear"}"#,
            Metric,
        ),
        read(
            "jar-first-mark",
            r#"{"marks":{"read_as":"timed","marks":[{"after_s":60,"top":{"seen":"at","mm":24}}]},"water_height_mm":150.0}"#,
            Metric,
        ),
        read(
            "jar-nothing",
            r#"{"marks":{"read_as":"heights","sand_top":{"seen":"no"},"silt_top":{"seen":"no"},"clay_top":{"seen":"no"}}}"#,
            UsCustomary,
        ),
    ]
}
