//! Marks in a text that steer what is around them and show nothing themselves.

/// True for marks that a terminal, a drawing program or a text system obeys without showing: controls, direction
/// overrides (Unicode Standard Annex 9), zero-width letters, variation selectors, tags. Whoever shows her words shows these
/// by number.
pub fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter as u32,
            0x00AD | 0x034F | 0x061C | 0x115F | 0x1160 | 0x17B4 | 0x17B5 | 0x180B..=0x180F
            | 0x200B..=0x200F | 0x2028..=0x202E | 0x2060..=0x206F | 0x3164 | 0xFE00..=0xFE0F | 0xFEFF | 0xFFA0
            | 0xFFF0..=0xFFFB | 0x1BCA0..=0x1BCA3 | 0x1D173..=0x1D17A | 0xE0000..=0xE0FFF)
}
