//! Small drawings that stand in for photos, as PNG files (ISO/IEC 15948) with stored, uncompressed data.

/// Media type of the drawings.
pub(super) const MEDIA_TYPE: &str = "image/png";

const WIDTH: usize = 120;
const HEIGHT: usize = 160;

/// Colours of the drawings, red, green and blue.
const PALETTE: [[u8; 3]; 6] = [
    [246, 242, 232], // paper
    [206, 224, 230], // water
    [214, 190, 140], // sand
    [160, 126, 88],  // silt
    [112, 78, 58],   // clay
    [60, 58, 54],    // glass
];

/// The drawing called `name`: a jar, else a puddle.
pub(super) fn draw(name: &str) -> Vec<u8> {
    let pixel: fn(usize, usize) -> u8 = if name == "jar" { jar } else { puddle };
    let mut rows = Vec::with_capacity(HEIGHT * (WIDTH + 1));
    for y in 0..HEIGHT {
        // Filter type 0: the row as it is.
        rows.push(0);
        rows.extend((0..WIDTH).map(|x| pixel(x, y)));
    }
    png(&rows)
}

fn jar(x: usize, y: usize) -> u8 {
    let (inside, wall) = ((36..84).contains(&x), (33..87).contains(&x));
    match y {
        12..150 if inside => match y {
            12..24 => 0,
            24..96 => 1,
            96..116 => 4,
            116..142 => 3,
            _ => 2,
        },
        10..153 if wall => 5,
        _ => 0,
    }
}

fn puddle(x: usize, y: usize) -> u8 {
    let (dx, dy) = (x.abs_diff(60), y.abs_diff(110));
    match y {
        0..50 => 0,
        _ if dx * dx + 9 * dy * dy < 2_400 => 1,
        _ if (x + y / 7) % 17 < 3 => 3,
        _ => 4,
    }
}

fn png(rows: &[u8]) -> Vec<u8> {
    let mut file = vec![0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a];
    let mut header = Vec::new();
    header.extend(big_endian(WIDTH));
    header.extend(big_endian(HEIGHT));
    // Eight bits a pixel, by palette; the usual compression and filter; not interlaced.
    header.extend([8, 3, 0, 0, 0]);
    chunk(&mut file, *b"IHDR", &header);
    chunk(&mut file, *b"PLTE", PALETTE.as_flattened());
    chunk(&mut file, *b"IDAT", &stored(rows));
    chunk(&mut file, *b"IEND", &[]);
    file
}

/// Lengths here are far below 2³².
fn big_endian(length: usize) -> [u8; 4] {
    u32::try_from(length).unwrap_or(u32::MAX).to_be_bytes()
}

fn chunk(file: &mut Vec<u8>, name: [u8; 4], data: &[u8]) {
    file.extend(big_endian(data.len()));
    let start = file.len();
    file.extend(name);
    file.extend(data);
    let check = crc32(&file[start..]);
    file.extend(check.to_be_bytes());
}

/// A zlib stream (RFC 1950) of stored blocks (RFC 1951).
fn stored(data: &[u8]) -> Vec<u8> {
    let mut stream = vec![0x78, 0x01];
    let blocks = data.chunks(usize::from(u16::MAX));
    let last = blocks.len().saturating_sub(1);
    for (at, block) in blocks.enumerate() {
        let length = u16::try_from(block.len()).unwrap_or(u16::MAX);
        stream.push(u8::from(at == last));
        stream.extend(length.to_le_bytes());
        stream.extend((!length).to_le_bytes());
        stream.extend(block);
    }
    stream.extend(adler32(data).to_be_bytes());
    stream
}

fn crc32(data: &[u8]) -> u32 {
    !data.iter().fold(u32::MAX, |crc, byte| {
        (0..8).fold(
            crc ^ u32::from(*byte),
            |crc, _| if crc & 1 == 1 { (crc >> 1) ^ 0xedb8_8320 } else { crc >> 1 },
        )
    })
}

fn adler32(data: &[u8]) -> u32 {
    let (a, b) = data.iter().fold((1_u32, 0_u32), |(a, b), byte| {
        let a = (a + u32::from(*byte)) % 65_521;
        (a, (b + a) % 65_521)
    });
    (b << 16) | a
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 1950 and the PNG specification leave no freedom in these; the values for "123456789" are
    /// the published check values of both sums.
    #[test]
    fn sums_have_their_published_check_values() {
        assert_eq!(crc32(b"123456789"), 0xcbf4_3926);
        assert_eq!(adler32(b"123456789"), 0x091e_01de);
    }

    #[test]
    fn the_two_drawings_differ() {
        assert_ne!(draw("jar"), draw("puddle"));
        assert!(draw("jar").len() > WIDTH * HEIGHT);
    }
}
