//! A sentence with values in it, said in the units of whoever reads it.

use core::cell::Cell;
use core::fmt;
use core::ops::Deref;
use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

use smallvec::{SmallVec, smallvec};

use super::System;
use super::head;
use super::kind::{Kind, Quantity};
use super::page::Page;
use super::quantity::{Length, Quantified};
use super::show::trimmed;

/// One part of a sentence.
#[derive(Clone, PartialEq, Debug)]
#[non_exhaustive]
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

    /// Words of this library.
    #[must_use]
    pub const fn word(words: &'static str) -> Self {
        Self::Text(Cow::Borrowed(words))
    }

    /// Makes rounding noise of the page zero.
    fn settle(&mut self, page: &Page) {
        match self {
            Self::Text(_) => {}
            Self::Value(q) => q.si = page.settled(*q),
            Self::Small(length) => *length = Length::from_si(page.settled(length.quantity())),
            Self::Sentence(said) => said.quiet(page),
        }
    }

    /// The text with so many digits of a value; six, and seven of a number, where it is not said.
    fn on(&self, page: &Page, digits: Option<usize>) -> Cow<'_, str> {
        let text = match self {
            Self::Text(text) => return Cow::Borrowed(text),
            Self::Sentence(said) => {
                return match &said.0 {
                    Sentence::Fixed(text) => Cow::Borrowed(text),
                    Sentence::Made(made) => made.words.on(page, digits),
                };
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
    values: SmallVec<[Said; 4]>,
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

type Parts = SmallVec<[Part; 1]>;

/// What a sentence says; its copies share it.
#[derive(Clone)]
enum Words {
    /// Without values: it stands as it was given.
    Text(Arc<str>),
    /// With values.
    Parts(Arc<Parts>),
}

impl Words {
    fn on(&self, page: &Page, digits: Option<usize>) -> Cow<'_, str> {
        match self {
            Self::Text(text) => Cow::Borrowed(text),
            Self::Parts(parts) => {
                let mut text = String::new();
                parts.iter().for_each(|part| part.on(page, digits, &mut text));
                Cow::Owned(text)
            }
        }
    }
}

/// A sentence that holds its values. It reads as text (in SI until [`on`](Self::on) sets it on a
/// page of other units), and two are equal where their texts are. The text is made when it is read.
#[derive(Clone)]
pub struct Message(Sentence);

/// Small, because problems hold several and are handed on by deep recursions.
#[derive(Clone)]
enum Sentence {
    /// Words of this library, without values.
    Fixed(&'static str),
    Made(Box<Made>),
}

#[derive(Clone)]
struct Made {
    words: Words,
    form: Form,
    /// The page on which it is read; SI and no noise where there is none.
    page: Option<Arc<Page>>,
    text: OnceLock<Box<str>>,
}

/// How a sentence is written: with so many digits, up to so many characters.
#[derive(Clone, Copy)]
struct Form {
    digits: Option<u8>,
    most: usize,
}

impl Form {
    const USUAL: Self = Self { digits: None, most: usize::MAX };

    fn digits(self) -> Option<usize> {
        self.digits.map(usize::from)
    }

    fn cut(self, text: Cow<'_, str>) -> Box<str> {
        if text.len() <= self.most { text.into() } else { head(&text, self.most).into() }
    }
}

thread_local! {
    static WRITTEN_IN: Cell<Option<System>> = const { Cell::new(None) };
}

/// Writes answers with their sentences in these units, whatever page they were made for.
///
/// ```
/// use proofspan::source::{Value, Write};
/// use proofspan::units::*;
/// let said = Message::new("at x = {}", [(6.0 * FT).into()]);
/// let node = written_in(System::Us, || said.write());
/// assert_eq!(node.value, Value::Text("at x = 6 ft".to_owned()));
/// assert_eq!(said.write().value, Value::Text("at x = 1.8288 m".to_owned()));
/// ```
pub fn written_in<R>(system: System, work: impl FnOnce() -> R) -> R {
    struct Back(Option<System>);
    impl Drop for Back {
        fn drop(&mut self) {
            WRITTEN_IN.set(self.0);
        }
    }
    let _back = Back(WRITTEN_IN.replace(Some(system)));
    work()
}

impl fmt::Debug for Message {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.as_str(), f)
    }
}

impl Message {
    fn of(words: Words, page: Option<Arc<Page>>) -> Self {
        let made = Made { words, form: Form::USUAL, page, text: OnceLock::new() };
        Self(Sentence::Made(Box::new(made)))
    }

    /// Words of this library, without values.
    pub(crate) const fn fixed(words: &'static str) -> Self {
        Self(Sentence::Fixed(words))
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
        let parts = smallvec![Part { template, values: values.into_iter().collect() }];
        Self::of(Words::Parts(Arc::new(parts)), None)
    }

    /// The same with so many digits of every value, and with its head alone where it is longer than
    /// `most` characters.
    #[must_use]
    pub(crate) fn shortened(mut self, digits: u8, most: usize) -> Self {
        match &mut self.0 {
            Sentence::Fixed(text) if text.len() > most => return head(text, most).into(),
            Sentence::Fixed(_) => {}
            Sentence::Made(made) => {
                made.form = Form { digits: Some(digits), most };
                made.text.take();
                if let Words::Text(text) = &made.words
                    && text.len() > most
                {
                    made.words = Words::Text(head(text, most).into());
                }
            }
        }
        self
    }

    /// The same on a page: its units, its noise.
    #[must_use]
    pub fn on(mut self, page: &Page) -> Self {
        self.settle(&Arc::new(page.clone()));
        self
    }

    /// Sets the sentence on a page: its units, its noise.
    pub(crate) fn settle(&mut self, page: &Arc<Page>) {
        if let Sentence::Made(made) = &mut self.0
            && matches!(made.words, Words::Parts(_))
        {
            made.page = Some(Arc::clone(page));
            made.text.take();
        }
    }

    /// Makes rounding noise of a page zero in what it says, whatever page it is read on.
    fn quiet(&mut self, page: &Page) {
        if let Sentence::Made(made) = &mut self.0
            && let Words::Parts(parts) = &mut made.words
        {
            let values = Arc::make_mut(parts).iter_mut().flat_map(|p| &mut p.values);
            values.for_each(|value| value.settle(page));
        }
    }

    /// The same with another sentence behind it.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        let page = self.page().or_else(|| other.page());
        let mut parts = self.into_parts();
        parts.extend(other.into_parts());
        Self::of(Words::Parts(Arc::new(parts)), page)
    }

    /// The same with further words and values behind it.
    pub(crate) fn with(self, more: impl IntoIterator<Item = (&'static str, [Said; 2])>) -> Self {
        let page = self.page();
        let mut parts = self.into_parts();
        parts.extend(
            more.into_iter()
                .map(|(template, v)| Part { template, values: v.into_iter().collect() }),
        );
        Self::of(Words::Parts(Arc::new(parts)), page)
    }

    /// These sentences one after the other, with words between them.
    #[must_use]
    pub fn joined(sentences: impl IntoIterator<Item = Self>, between: &'static str) -> Self {
        let mut all = sentences.into_iter();
        let Some(first) = all.next() else { return Self::fixed("") };
        let page = first.page();
        let mut parts = first.into_parts();
        for next in all {
            parts.push(Part { template: "{}", values: smallvec![Said::word(between)] });
            parts.extend(next.into_parts());
        }
        Self::of(Words::Parts(Arc::new(parts)), page)
    }

    fn page(&self) -> Option<Arc<Page>> {
        let Sentence::Made(made) = &self.0 else { return None };
        made.page.clone()
    }

    fn into_parts(mut self) -> Parts {
        if let Some(page) = self.page() {
            self.quiet(&page);
        }
        let text = match self.0 {
            Sentence::Fixed(text) => Said::word(text),
            Sentence::Made(made) => match made.words {
                Words::Text(text) => (&*text).into(),
                Words::Parts(parts) => return Arc::unwrap_or_clone(parts),
            },
        };
        smallvec![Part { template: "{}", values: smallvec![text] }]
    }

    /// The same behind other words.
    #[must_use]
    pub fn after(self, words: impl Into<Self>) -> Self {
        words.into().and(self)
    }

    /// The text as it is written out: in the units of [`written_in`] inside it, else [`Self::as_str`].
    pub(crate) fn written(&self) -> Cow<'_, str> {
        let (Some(system), Sentence::Made(made)) = (WRITTEN_IN.get(), &self.0) else {
            return self.as_str().into();
        };
        let page = made.page.as_deref().cloned().unwrap_or_default().in_units(system);
        match &made.words {
            Words::Text(text) => text.as_ref().into(),
            words @ Words::Parts(_) => {
                made.form.cut(words.on(&page, made.form.digits())).into_string().into()
            }
        }
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        let made = match &self.0 {
            Sentence::Fixed(text) => return text,
            Sentence::Made(made) => made,
        };
        if let Words::Text(text) = &made.words {
            return text;
        }
        made.text.get_or_init(|| {
            let text = match &made.page {
                Some(page) => made.words.on(page, made.form.digits()),
                None => made.words.on(&Page::default(), made.form.digits()),
            };
            made.form.cut(text)
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
            Said::Text(Cow::Borrowed(text)) => Self::fixed(text),
            Said::Text(Cow::Owned(text)) => text.into(),
            value => Self::new("{}", [value]),
        }
    }
}
impl From<&String> for Message {
    fn from(text: &String) -> Self {
        Self::from(text.clone())
    }
}
/// Words that stand in a program are not copied; others come as a `String`.
impl From<&'static str> for Message {
    fn from(text: &'static str) -> Self {
        Self::fixed(text)
    }
}
impl From<String> for Message {
    fn from(text: String) -> Self {
        Self::of(Words::Text(text.into()), None)
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
