//! Width and height of a picture as browsers show it, from its first bytes: PNG (RFC 2083), GIF89a, JPEG (ITU-T T.81), WebP
//! (RFC 9649), turned as Exif says (CIPA DC-008, tag 0x0112).

/// Width and height in pixels; none where the file does not say.
pub(super) fn size_px(bytes: &[u8]) -> Option<(u32, u32)> {
    let be = |at: usize| Some(u32::from(u16::from_be_bytes(bytes.get(at..at + 2)?.try_into().ok()?)));
    let le = |at: usize| Some(u32::from(u16::from_le_bytes(bytes.get(at..at + 2)?.try_into().ok()?)));
    let found = match bytes {
        [0x89, b'P', b'N', b'G', ..] => {
            let word = |at: usize| Some(u32::from_be_bytes(bytes.get(at..at + 4)?.try_into().ok()?));
            (word(16)?, word(20)?)
        }
        [b'G', b'I', b'F', b'8', ..] => (le(6)?, le(8)?),
        [0xff, 0xd8, ..] => {
            let mut at = 2;
            loop {
                if *bytes.get(at)? != 0xff {
                    return None;
                }
                match *bytes.get(at + 1)? {
                    0xff => at += 1,
                    // Start of frame, except the tables that share its range.
                    marker @ 0xc0..=0xcf if !matches!(marker, 0xc4 | 0xc8 | 0xcc) => {
                        break (be(at + 7)?, be(at + 5)?);
                    }
                    0xd8 | 0x01 | 0xd0..=0xd7 => at += 2,
                    _ => at += 2 + usize::try_from(be(at + 2)?).ok()?.max(2),
                }
            }
        }
        [b'R', b'I', b'F', b'F', ..] => match bytes.get(12..16)? {
            b"VP8 " => (le(26)? & 0x3fff, le(28)? & 0x3fff),
            b"VP8L" => {
                let bits = u32::from_le_bytes(bytes.get(21..25)?.try_into().ok()?);
                ((bits & 0x3fff) + 1, ((bits >> 14) & 0x3fff) + 1)
            }
            b"VP8X" => {
                let three = |at: usize| {
                    let part = bytes.get(at..at + 3)?;
                    Some(u32::from(part[0]) | u32::from(part[1]) << 8 | u32::from(part[2]) << 16)
                };
                (three(24)? + 1, three(27)? + 1)
            }
            _ => return None,
        },
        _ => return None,
    };
    let shown = if lies_on_its_side(bytes) { (found.1, found.0) } else { found };
    (shown.0 > 0 && shown.1 > 0).then_some(shown)
}

/// Whether a camera held upright wrote the picture lying down: orientations 5 to 8.
fn lies_on_its_side(bytes: &[u8]) -> bool {
    let tiff = match bytes {
        [0xff, 0xd8, ..] => jpeg_exif(bytes),
        [b'R', b'I', b'F', b'F', ..] => webp_exif(bytes),
        _ => None,
    };
    tiff.and_then(orientation).is_some_and(|turn| (5..=8).contains(&turn))
}

fn jpeg_exif(bytes: &[u8]) -> Option<&[u8]> {
    let mut at = 2;
    loop {
        let [0xff, marker, high, low] = *bytes.get(at..at + 4)? else { return None };
        let length = usize::from(u16::from_be_bytes([high, low]));
        match marker {
            0xe1 => {
                let found = bytes.get(at + 4..at + 2 + length)?;
                if let Some(tiff) = found.strip_prefix(b"Exif\0\0") {
                    return Some(tiff);
                }
            }
            // The picture itself begins.
            0xda => return None,
            _ => {}
        }
        at += 2 + length.max(2);
    }
}

fn webp_exif(bytes: &[u8]) -> Option<&[u8]> {
    let mut at = 12;
    loop {
        let head = bytes.get(at..at + 8)?;
        let length = usize::try_from(u32::from_le_bytes(head[4..8].try_into().ok()?)).ok()?;
        if &head[..4] == b"EXIF" {
            let found = bytes.get(at + 8..at.checked_add(8 + length)?)?;
            return Some(found.strip_prefix(b"Exif\0\0").unwrap_or(found));
        }
        at = at.checked_add(8 + length + length % 2)?;
    }
}

/// The value of tag 0x0112 in the first directory.
fn orientation(tiff: &[u8]) -> Option<u16> {
    let little = match tiff.get(..2)? {
        b"II" => true,
        b"MM" => false,
        _ => return None,
    };
    let short = |at: usize| {
        let two: [u8; 2] = tiff.get(at..at.checked_add(2)?)?.try_into().ok()?;
        Some(if little { u16::from_le_bytes(two) } else { u16::from_be_bytes(two) })
    };
    let four: [u8; 4] = tiff.get(4..8)?.try_into().ok()?;
    let from =
        usize::try_from(if little { u32::from_le_bytes(four) } else { u32::from_be_bytes(four) }).ok()?;
    (0..usize::from(short(from)?))
        .map(|entry| from + 2 + 12 * entry)
        .find(|at| short(*at) == Some(0x0112))
        .and_then(|at| short(at + 8))
}

#[cfg(test)]
mod tests {
    use super::size_px;
    use proptest::prelude::*;

    /// Heads of files as the named standards lay them out.
    #[test]
    fn sizes_stand_where_the_standards_put_them() {
        let mut png = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".to_vec();
        png.extend([0, 0, 4, 0, 0, 0, 3, 0, 8, 2]);
        assert_eq!(size_px(&png), Some((1024, 768)));
        assert_eq!(size_px(b"GIF89a\x10\x00\x08\x00rest"), Some((16, 8)));
        let jpeg = b"\xff\xd8\xff\xe0\x00\x04ab\xff\xc0\x00\x11\x08\x02\x00\x03\x00rest";
        assert_eq!(size_px(jpeg), Some((768, 512)));
        assert_eq!(size_px(b"\xff\xd8\xff"), None);
    }

    /// One entry of a directory as CIPA DC-008 and TIFF 6.0 lay it out: tag 0x0112, type SHORT, one, the value.
    #[test]
    fn a_picture_taken_upright_is_shown_upright() {
        let frame = b"\xff\xc0\x00\x11\x08\x02\x00\x03\x00rest";
        let exif = |turn: u8| {
            let mut tiff = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
            tiff.extend([turn, 0, 0, 0, 0, 0, 0]);
            tiff
        };
        let jpeg = |turn: u8| {
            let exif = exif(turn);
            let length = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
            [b"\xff\xd8\xff\xe1", &length[..], &exif, frame].concat()
        };
        assert_eq!(size_px(&jpeg(1)), Some((768, 512)));
        assert_eq!(size_px(&jpeg(3)), Some((768, 512)));
        assert_eq!(size_px(&jpeg(6)), Some((512, 768)));
        assert_eq!(size_px(&jpeg(8)), Some((512, 768)));
        let tiff = &exif(6)[6..];
        let mut webp = b"RIFF\0\0\0\0WEBPVP8X\x0a\0\0\0\x08\0\0\0\xff\x02\0\xff\x01\0EXIF".to_vec();
        webp.extend(u32::try_from(tiff.len()).unwrap().to_le_bytes());
        webp.extend(tiff);
        assert_eq!(size_px(&webp), Some((512, 768)));
    }

    proptest! {
        #[test]
        fn no_bytes_panic(head in 0_usize..4, bytes in proptest::collection::vec(any::<u8>(), 0..64)) {
            let heads: [&[u8]; 4] = [b"\xff\xd8", b"\x89PNG", b"GIF89a", b"RIFF\0\0\0\0WEBPVP8X"];
            let _ = size_px(&[heads[head], &bytes].concat());
        }
    }
}
