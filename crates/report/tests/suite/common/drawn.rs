//! Where paths and pictures lie on the pages of a PDF.

use lopdf::content::Content;
use lopdf::{Document, Object, ObjectId};

/// A matrix of PDF: a b c d e f.
type Matrix = [f64; 6];

const SAME: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];

fn then(first: &Matrix, next: &Matrix) -> Matrix {
    let [a, b, c, d, e, f] = *first;
    let [g, h, i, j, k, l] = *next;
    [a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + l]
}

fn put(at: (f64, f64), matrix: &Matrix) -> (f64, f64) {
    let [a, b, c, d, e, f] = *matrix;
    (a * at.0 + c * at.1 + e, b * at.0 + d * at.1 + f)
}

fn number(object: &Object) -> f64 {
    match object {
        Object::Integer(number) => *number as f64,
        Object::Real(number) => f64::from(*number),
        _ => 0.0,
    }
}

fn height(document: &Document, page: ObjectId) -> f64 {
    let found = document.get_dictionary(page).expect("a page").get(b"MediaBox").expect("it has a size");
    number(&found.as_array().expect("four numbers")[3])
}

/// Left, top (from the upper edge of the paper), width and height in points.
fn bounds(points: &[(f64, f64)], page_height: f64) -> Option<[f64; 4]> {
    let low = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(f64::INFINITY, f64::min);
    let high = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
    let (left, right, bottom, top) = (low(|p| p.0), high(|p| p.0), low(|p| p.1), high(|p| p.1));
    left.is_finite().then_some([left, page_height - top, right - left, top - bottom])
}

/// Every path on each page, by its bounds; those in pictures are left out.
pub(crate) fn drawn(bytes: &[u8]) -> Vec<Vec<[f64; 4]>> {
    each_page(bytes, |found| found.paths)
}

#[derive(Default)]
struct Found {
    paths: Vec<[f64; 4]>,
}

fn each_page(bytes: &[u8], which: fn(Found) -> Vec<[f64; 4]>) -> Vec<Vec<[f64; 4]>> {
    let document = Document::load_mem(bytes).expect("the bytes are a PDF");
    let pages: Vec<ObjectId> = document.get_pages().into_values().collect();
    pages
        .into_iter()
        .map(|page| {
            let content = document.get_page_content(page);
            let mut found = Found::default();
            let content = Content::decode(&content).expect("the content can be read");
            walk(&content, SAME, height(&document, page), &mut found);
            which(found)
        })
        .collect()
}

/// Where each run of text begins on each page, in points from the upper left corner of the paper.
pub(crate) fn written(bytes: &[u8]) -> Vec<Vec<[f64; 2]>> {
    let document = Document::load_mem(bytes).expect("the bytes are a PDF");
    document
        .get_pages()
        .into_values()
        .map(|page| {
            let content = Content::decode(&document.get_page_content(page)).expect("it can be read");
            let page_height = height(&document, page);
            let (mut matrix, mut kept, mut at, mut found) = (SAME, Vec::new(), SAME, Vec::new());
            for operation in &content.operations {
                let numbers: Vec<f64> = operation.operands.iter().map(number).collect();
                match (operation.operator.as_str(), &numbers[..]) {
                    ("q", _) => kept.push(matrix),
                    ("Q", _) => matrix = kept.pop().unwrap_or(SAME),
                    ("cm", &[a, b, c, d, e, f]) => matrix = then(&[a, b, c, d, e, f], &matrix),
                    ("BT", _) => at = SAME,
                    ("Tm", &[a, b, c, d, e, f]) => at = [a, b, c, d, e, f],
                    ("Td", &[x, y]) => at = then(&[1.0, 0.0, 0.0, 1.0, x, y], &at),
                    ("Tj" | "TJ", _) => {
                        let (x, y) = put((at[4], at[5]), &matrix);
                        found.push([x, page_height - y]);
                    }
                    _ => {}
                }
            }
            found
        })
        .collect()
}

fn walk(content: &Content, from: Matrix, page_height: f64, found: &mut Found) {
    let (mut matrix, mut kept, mut points) = (from, Vec::new(), Vec::new());
    for operation in &content.operations {
        let numbers: Vec<f64> = operation.operands.iter().map(number).collect();
        match (operation.operator.as_str(), &numbers[..]) {
            ("q", _) => kept.push(matrix),
            ("Q", _) => matrix = kept.pop().unwrap_or(from),
            ("cm", &[a, b, c, d, e, f]) => matrix = then(&[a, b, c, d, e, f], &matrix),
            ("m" | "l", &[x, y]) => points.push(put((x, y), &matrix)),
            ("c", &[_, _, _, _, x, y]) => points.push(put((x, y), &matrix)),
            ("re", &[x, y, width, height]) => {
                points.extend([(x, y), (x + width, y + height)].map(|corner| put(corner, &matrix)));
            }
            ("S" | "s" | "f" | "F" | "f*" | "B" | "b" | "B*" | "b*" | "n", _) => {
                found.paths.extend(bounds(&points, page_height));
                points.clear();
            }
            _ => {}
        }
    }
}
