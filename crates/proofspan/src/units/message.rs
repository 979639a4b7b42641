//! A sentence with values in it, said in the units of whoever reads it.

use core::fmt;
use core::ops::Deref;
use std::borrow::Cow;
use std::sync::OnceLock;

use super::kind::{Kind, Quantity};
use super::page::Page;
use super::quantity::{Length, Quantified};
use super::show::{System, trimmed};

/// One part of a sentence.
#[derive(Clone, PartialEq, Debug)]
pub enum Said {
    /// Words.
    Text(Cow<'static, str>),
    /// A value in the usual unit of its kind; a length as a place or a span.
    Value(Quantity),
    /// A deflection, gap or stroke.
    Small(Length),
    /// A sentence inside the sentence.
    Sentence(Message),
}

impl Said {
    /// A deflection, gap or stroke: in mm or inches.
    #[must_use]
    pub const fn small(length: Length) -> Self {
        Self::Small(length)
    }

    /// Makes rounding noise of the page zero.
    fn settle(&mut self, page: &Page) {
        match self {
            Self::Text(_) => {}
            Self::Value(q) => q.si = page.settled(*q),
            Self::Small(length) => *length = Length::from_si(page.settled(length.quantity())),
            Self::Sentence(said) => said.settle(page),
        }
    }

    fn on(&self, page: &Page) -> Cow<'_, str> {
        let text = match self {
            Self::Text(text) => return Cow::Borrowed(text),
            Self::Sentence(said) if said.parts.is_empty() => return Cow::Borrowed(said.as_str()),
            Self::Sentence(said) => {
                let mut text = String::new();
                said.parts.iter().for_each(|part| part.on(page, &mut text));
                return Cow::Owned(text);
            }
            Self::Value(q) if q.kind == Kind::Ratio => page.value(*q, 7),
            Self::Value(q) => page.value(*q, 6),
            Self::Small(length) => page.small(*length),
        };
        Cow::Owned(match text.split_once(' ') {
            Some((number, unit)) => format!("{} {unit}", trimmed(number)),
            None => trimmed(&text).to_owned(),
        })
    }
}

impl<Q: Quantified> From<Q> for Said {
    fn from(q: Q) -> Self {
        Self::Value(q.quantity())
    }
}
impl From<f64> for Said {
    fn from(number: f64) -> Self {
        Self::Value(Quantity::new(Kind::Ratio, number))
    }
}
impl From<Quantity> for Said {
    fn from(q: Quantity) -> Self {
        Self::Value(q)
    }
}
impl From<Message> for Said {
    fn from(said: Message) -> Self {
        Self::Sentence(said)
    }
}
impl From<&str> for Said {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned().into())
    }
}
impl From<&String> for Said {
    fn from(text: &String) -> Self {
        Self::Text(text.clone().into())
    }
}
impl From<String> for Said {
    fn from(text: String) -> Self {
        Self::Text(text.into())
    }
}

/// Words with `{}` where values stand, and the values.
#[derive(Clone, Debug)]
struct Part {
    template: &'static str,
    values: Vec<Said>,
}

impl Part {
    fn on(&self, page: &Page, text: &mut String) {
        let mut values = self.values.iter();
        for (i, words) in self.template.split("{}").enumerate() {
            if i > 0
                && let Some(value) = values.next()
            {
                text.push_str(&value.on(page));
            }
            text.push_str(words);
        }
    }
}

/// A sentence that holds its values. It reads as text (in SI until [`on`](Self::on) sets it on a
/// page of other units), and two are equal where their texts are. The text is made when it is read.
#[derive(Clone, Debug)]
pub struct Message {
    /// None where the text holds no values: then it stands as it was given.
    parts: Vec<Part>,
    system: System,
    text: OnceLock<String>,
}

impl Message {
    /// The sentence `template` with each `{}` in turn replaced by a value; a value too few leaves
    /// nothing in its place.
    ///
    /// ```
    /// use proofspan::units::*;
    /// let said = Message::new("gap {} at x = {}", [Said::small(0.5 * IN), (6.0 * FT).into()]);
    /// assert_eq!(said.to_string(), "gap 12.7 mm at x = 1.8288 m");
    /// assert_eq!(said.on(&Page::new(System::Us)).to_string(), "gap 0.5 in at x = 6 ft");
    /// ```
    #[must_use]
    pub fn new(template: &'static str, values: impl IntoIterator<Item = Said>) -> Self {
        let parts = vec![Part { template, values: values.into_iter().collect() }];
        Self { parts, system: System::Si, text: OnceLock::new() }
    }

    /// The same on a page: its units, its noise.
    #[must_use]
    pub fn on(mut self, page: &Page) -> Self {
        self.settle(page);
        self
    }

    /// Sets the sentence on a page: its units, its noise.
    pub fn settle(&mut self, page: &Page) {
        if self.parts.is_empty() {
            return;
        }
        self.parts.iter_mut().flat_map(|p| &mut p.values).for_each(|value| value.settle(page));
        self.system = page.system();
        self.text.take();
    }

    /// The same with another sentence behind it.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        let mut parts = self.into_parts();
        parts.extend(other.into_parts());
        Self { parts, system: System::Si, text: OnceLock::new() }
    }

    fn into_parts(self) -> Vec<Part> {
        match self.text.into_inner() {
            Some(text) if self.parts.is_empty() => {
                vec![Part { template: "{}", values: vec![text.into()] }]
            }
            _ => self.parts,
        }
    }

    /// The same behind other words.
    #[must_use]
    pub fn after(self, words: &str) -> Self {
        Self::from(words).and(self)
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        self.text.get_or_init(|| {
            let page = Page::new(self.system);
            let mut text = String::new();
            self.parts.iter().for_each(|part| part.on(&page, &mut text));
            text
        })
    }
}

impl PartialEq for Message {
    fn eq(&self, other: &Self) -> bool {
        self.as_str() == other.as_str()
    }
}
impl Eq for Message {}

impl Deref for Message {
    type Target = str;
    fn deref(&self) -> &str {
        self.as_str()
    }
}

impl fmt::Display for Message {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

impl From<&str> for Message {
    fn from(text: &str) -> Self {
        Self::from(text.to_owned())
    }
}
impl From<String> for Message {
    fn from(text: String) -> Self {
        Self { parts: Vec::new(), system: System::Si, text: OnceLock::from(text) }
    }
}

#[cfg(test)]
mod tests {
    use super::super::*;

    #[test]
    fn a_brace_of_a_name_is_no_place_for_a_value() {
        let said = Message::new("level {} takes {}", ["a{}b".into(), (1.0 * KN).into()]);
        assert_eq!(said.as_str(), "level a{}b takes 1 kN");
        assert_eq!(Message::from("{} of {}").after("here: ").as_str(), "here: {} of {}");
    }

    #[test]
    fn noise_is_said_as_nothing() {
        let mut page = Page::new(System::Si);
        page.see((1.0 * KN).quantity());
        let said = Message::new("lifts by {}", [(1e-13 * KN).into()]);
        assert_eq!(said.on(&page).as_str(), "lifts by 0 kN");
    }
}
