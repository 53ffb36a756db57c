//! QR codes (ISO/IEC 18004) of what a label names.

use qrcode::render::svg;
use qrcode::types::Color;
use qrcode::{EcLevel, QrCode};

use crate::error::SheetError;

/// A seventh of a code may be dirt and it is still read: bags get dirty.
const LEVEL: EcLevel = EcLevel::M;

fn code(text: &str) -> Result<QrCode, SheetError> {
    QrCode::with_error_correction_level(text, LEVEL)
        .map_err(|error| SheetError::Layout(format!("no QR code can hold {text:?}: {error}")))
}

/// The code as a picture, with the quiet zone of four modules around it.
///
/// # Errors
/// A text longer than a code can hold, some 2,000 letters.
pub fn qr_svg(text: &str) -> Result<String, SheetError> {
    Ok(code(text)?.render::<svg::Color<'_>>().quiet_zone(true).min_dimensions(1, 1).build())
}

/// The code as rows of modules, `true` where it is dark, without the quiet zone.
///
/// # Errors
/// A text longer than a code can hold, some 2,000 letters.
pub fn qr_modules(text: &str) -> Result<Vec<Vec<bool>>, SheetError> {
    let code = code(text)?;
    Ok(code
        .to_colors()
        .chunks(code.width())
        .map(|row| row.iter().map(|dot| *dot == Color::Dark).collect())
        .collect())
}
