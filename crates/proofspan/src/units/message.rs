//! A sentence with values in it, said in the units of whoever reads it.

use core::fmt;
use core::ops::Deref;
use std::borrow::Cow;
use std::sync::OnceLock;

use super::head;
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

    /// The text with so many digits of a value; six, and seven of a number, where it is not said.
    fn on(&self, page: &Page, digits: Option<usize>) -> Cow<'_, str> {
        let text = match self {
            Self::Text(text) => return Cow::Borrowed(text),
            Self::Sentence(said) if said.0.parts.is_empty() => return Cow::Borrowed(said.as_str()),
            Self::Sentence(said) => {
                let mut text = String::new();
                said.0.parts.iter().for_each(|part| part.on(page, digits, &mut text));
                return Cow::Owned(text);
            }
            Self::Value(q) if q.kind == Kind::Ratio => page.value(*q, digits.unwrap_or(7)),
            Self::Value(q) => page.value(*q, digits.unwrap_or(6)),
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
impl From<&&str> for Said {
    fn from(text: &&str) -> Self {
        Self::from(*text)
    }
}
impl From<Cow<'_, str>> for Said {
    fn from(text: Cow<'_, str>) -> Self {
        Self::from(text.into_owned())
    }
}
impl From<&f64> for Said {
    fn from(number: &f64) -> Self {
        Self::from(*number)
    }
}

/// Counts are words: they have no unit and no noise.
macro_rules! counted {
    ($($count:ty),*) => {$(
        impl From<$count> for Said {
            fn from(count: $count) -> Self {
                Self::Text(count.to_string().into())
            }
        }
        impl From<&$count> for Said {
            fn from(count: &$count) -> Self {
                Self::from(*count)
            }
        }
    )*};
}
counted!(i8, u8, u16, u32, i32, u64, i64, usize, bool);

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
    fn on(&self, page: &Page, digits: Option<usize>, text: &mut String) {
        let mut values = self.values.iter();
        for (i, words) in self.template.split("{}").enumerate() {
            if i > 0
                && let Some(value) = values.next()
            {
                text.push_str(&value.on(page, digits));
            }
            text.push_str(words);
        }
    }
}

/// A sentence that holds its values. It reads as text (in SI until [`on`](Self::on) sets it on a
/// page of other units), and two are equal where their texts are. The text is made when it is read.
#[derive(Clone)]
pub struct Message(Box<Inner>);

#[derive(Clone)]
struct Inner {
    /// None where the text holds no values: then it stands as it was given.
    parts: Vec<Part>,
    system: System,
    form: Form,
    text: OnceLock<String>,
}

/// How a sentence is written.
#[derive(Clone, Copy)]
struct Form {
    digits: Option<usize>,
    most: usize,
}

impl Form {
    const USUAL: Self = Self { digits: None, most: usize::MAX };

    fn cut(self, text: String) -> String {
        if text.len() <= self.most { text } else { head(&text, self.most) }
    }
}

impl fmt::Debug for Message {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), f)
    }
}

impl Message {
    fn of(parts: Vec<Part>, text: OnceLock<String>) -> Self {
        Self(Box::new(Inner { parts, system: System::Si, form: Form::USUAL, text }))
    }

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
        Self::of(parts, OnceLock::new())
    }

    /// The same with so many digits of every value, and with its head alone where it is longer than
    /// `most` characters.
    #[must_use]
    pub(crate) fn shortened(mut self, digits: usize, most: usize) -> Self {
        self.0.form = Form { digits: Some(digits), most };
        if self.0.parts.is_empty()
            && let Some(text) = self.0.text.take()
        {
            self.0.text = OnceLock::from(self.0.form.cut(text));
        } else {
            self.0.text.take();
        }
        self
    }

    /// The same on a page: its units, its noise.
    #[must_use]
    pub fn on(mut self, page: &Page) -> Self {
        self.settle(page);
        self
    }

    /// Sets the sentence on a page: its units, its noise.
    pub fn settle(&mut self, page: &Page) {
        if self.0.parts.is_empty() {
            return;
        }
        self.0.parts.iter_mut().flat_map(|p| &mut p.values).for_each(|value| value.settle(page));
        self.0.system = page.system();
        self.0.text.take();
    }

    /// The same with another sentence behind it.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        let mut parts = self.into_parts();
        parts.extend(other.into_parts());
        Self::of(parts, OnceLock::new())
    }

    /// These sentences one after the other, with words between them.
    #[must_use]
    pub fn joined(sentences: impl IntoIterator<Item = Self>, between: &str) -> Self {
        let all = sentences.into_iter().reduce(|a, b| a.and(b.after(between)));
        all.unwrap_or_else(|| Self::from(""))
    }

    fn into_parts(self) -> Vec<Part> {
        match self.0.text.into_inner() {
            Some(text) if self.0.parts.is_empty() => {
                vec![Part { template: "{}", values: vec![text.into()] }]
            }
            _ => self.0.parts,
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
        self.0.text.get_or_init(|| {
            let page = Page::new(self.0.system);
            let mut text = String::new();
            let digits = self.0.form.digits;
            self.0.parts.iter().for_each(|part| part.on(&page, digits, &mut text));
            self.0.form.cut(text)
        })
    }
}

impl PartialEq for Message {
    fn eq(&self, other: &Self) -> bool {
        self.as_str() == other.as_str()
    }
}
impl Eq for Message {}
impl PartialEq<str> for Message {
    fn eq(&self, other: &str) -> bool {
        self.as_str() == other
    }
}
impl PartialEq<&str> for Message {
    fn eq(&self, other: &&str) -> bool {
        self.as_str() == *other
    }
}

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

impl From<Said> for Message {
    fn from(said: Said) -> Self {
        match said {
            Said::Sentence(message) => message,
            Said::Text(text) => Self::from(text.into_owned()),
            value => Self::new("{}", [value]),
        }
    }
}
impl From<&String> for Message {
    fn from(text: &String) -> Self {
        Self::from(text.clone())
    }
}
impl From<&str> for Message {
    fn from(text: &str) -> Self {
        Self::from(text.to_owned())
    }
}
impl From<String> for Message {
    fn from(text: String) -> Self {
        Self::of(Vec::new(), OnceLock::from(text))
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
