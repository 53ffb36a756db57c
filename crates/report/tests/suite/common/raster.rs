//! The pages of a PDF as dots, drawn by a program that knows nothing of how it was made (hayro), and the QR codes on
//! them, read by another (rqrr).

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{RenderCache, RenderSettings, render};
use image::{GrayImage, Luma};

/// Dots to a millimetre: some 203 to an inch, those of a plain office printer or scanner.
pub(crate) const DOTS: f64 = 8.0;

const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// Each page in shades of grey, [`DOTS`] to a millimetre.
pub(crate) fn raster(bytes: &[u8]) -> Vec<GrayImage> {
    let pdf = Pdf::new(bytes.to_vec()).expect("the bytes are a PDF");
    let scale = (DOTS / POINTS_PER_MM) as f32;
    let settings =
        RenderSettings { x_scale: scale, y_scale: scale, bg_color: WHITE, ..RenderSettings::default() };
    let cache = RenderCache::new();
    pdf.pages()
        .iter()
        .map(|page| {
            let dots = render(page, &cache, &InterpreterSettings::default(), &settings);
            let (width, height) = (u32::from(dots.width()), u32::from(dots.height()));
            let shades: Vec<u8> = dots
                .data()
                .iter()
                // ITU-R BT.601 luma; paper and ink are grey here anyway.
                .map(|dot| {
                    ((299 * u32::from(dot.r) + 587 * u32::from(dot.g) + 114 * u32::from(dot.b)) / 1000) as u8
                })
                .collect();
            GrayImage::from_raw(width, height, shades).expect("as many dots as it says")
        })
        .collect()
}

/// A part of a page: left, top, width and height in mm.
pub(crate) fn part(page: &GrayImage, [left, top, width, height]: [f64; 4]) -> GrayImage {
    let dots = |mm: f64| (mm * DOTS).round().max(0.0) as u32;
    let (left, top) = (dots(left), dots(top));
    let (right, bottom) = ((left + dots(width)).min(page.width()), (top + dots(height)).min(page.height()));
    image::imageops::crop_imm(page, left, top, right - left, bottom - top).to_image()
}

/// What the QR codes of a picture say.
pub(crate) fn codes(picture: GrayImage) -> Vec<String> {
    let mut picture = rqrr::PreparedImage::prepare(picture);
    picture.detect_grids().iter().map(|grid| grid.decode().expect("the code is sound").1).collect()
}

/// How many dots of a picture carry ink.
pub(crate) fn inked(picture: &GrayImage) -> usize {
    picture.pixels().filter(|Luma([shade])| *shade < 200).count()
}
