//! Values and supports as words show them.

use crate::units::{Kind, Quantity, System, trimmed};

/// A value to six digits without idle zeros.
pub(in crate::equivalent) fn brief(value: Quantity, system: System) -> String {
    if value.kind == Kind::Length && value.si.abs() <= 0.0 {
        return if system == System::Us { "0 ft" } else { "0 m" }.to_owned();
    }
    let mut text = value.rounded(system, 6);
    if let Some(end) = text.find(' ') {
        let number = text.get(..end).unwrap_or_default();
        let kept = trimmed(number).len();
        text.replace_range(kept..end, "");
    }
    text
}

/// A place in a list.
pub(in crate::equivalent) fn index(i: u32) -> usize {
    usize::try_from(i).unwrap_or(usize::MAX)
}

/// A support by its letter.
pub(in crate::equivalent) fn name(i: usize) -> String {
    let letter =
        u32::try_from(i).ok().filter(|i| *i < 26).and_then(|i| char::from_u32(u32::from(b'A') + i));
    letter.map_or_else(|| format!("{}", i + 1), String::from)
}
