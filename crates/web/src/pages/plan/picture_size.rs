//! Width and height of a picture from its first bytes: PNG (RFC 2083), GIF89a, JPEG (ITU-T T.81), WebP (RFC 9649).

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
    (found.0 > 0 && found.1 > 0).then_some(found)
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

    proptest! {
        #[test]
        fn no_bytes_panic(head in 0_usize..4, bytes in proptest::collection::vec(any::<u8>(), 0..64)) {
            let heads: [&[u8]; 4] = [b"\xff\xd8", b"\x89PNG", b"GIF89a", b"RIFF\0\0\0\0WEBPVP8X"];
            let _ = size_px(&[heads[head], &bytes].concat());
        }
    }
}
