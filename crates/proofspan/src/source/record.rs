//! One field list makes struct, reader, writer and schema.

/// Makes a struct whose fields are read from a document, all problems at once.
///
/// A field of an `Option` type may be absent; `name: Type = value` gives a default, and
/// `name: Type => CODE "why"` says with which code and for which reason it may not be absent.
/// `name: Type where Rule` holds a plain field to a rule; a [`Given`](crate::source::Given) carries
/// its own. After the fields, `rules { function(field, other); }` names functions that are
/// called as `function(&mut Reader, &field, &other)` whenever those fields could be read.
/// A record with a short form ends in `unfold { long_form, schema }`: see [`Unfolded`](crate::source::Unfolded).
/// See the [module](crate::source) for an example.
#[macro_export]
macro_rules! record {
    (
        $(#[doc = $doc:expr])*
        pub struct $name:ident {
            $( $(#[doc = $field_doc:expr])* $field:ident : $ty:ty $(where $rule:ty)? $(= $default:expr)? $(=> $code:ident $why:literal)? ),* $(,)?
        }
        $( rules { $( $between:path [ $($arg:ident),+ ] ; )* } )?
        $( unfold { $unfold:path, $folded:path } )?
    ) => {
        $(#[doc = $doc])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $( $(#[doc = $field_doc])* pub $field: $ty, )*
        }

        impl $name {
            /// The names of the fields, in order.
            pub const FIELDS: &'static [&'static str] = &[$(stringify!($field)),*];
        }

        impl $crate::source::Read for $name {
            fn read(node: &$crate::source::Node, reader: &mut $crate::source::Reader) -> ::core::option::Option<Self> {
                $(
                    let before = reader.count();
                    let unfolded: ::core::option::Option<$crate::source::Unfolded> = $unfold(node, reader);
                    let node = unfolded.as_ref().map_or(node, |u| &u.node);
                )?
                let entries = reader.map(node, stringify!($name), Self::FIELDS)?;
                $(
                    let $field: ::core::option::Option<$ty> = reader.taken(
                        entries,
                        stringify!($field),
                        $crate::record!(@default $ty $(, $default)?),
                        $crate::record!(@missing $($code $why)?),
                        $crate::record!(@hold $ty $(, $rule)?),
                    );
                )*
                $($(
                    #[allow(unused_parens, reason = "one argument or several")]
                    if let ( $(::core::option::Option::Some($arg)),+ ) = ( $($arg.as_ref()),+ ) {
                        $between(reader, $($arg),+);
                    }
                )*)?
                $(
                    let _ = stringify!($unfold);
                    if let ::core::option::Option::Some(unfolded) = &unfolded {
                        reader.rename(before, &unfolded.names);
                    }
                )?
                // one way out for all that is missing
                let ($(::core::option::Option::Some($field),)*) = ($($field,)*) else {
                    return ::core::option::Option::None;
                };
                ::core::option::Option::Some(Self { $($field),* })
            }

            fn validate(&self, reader: &mut $crate::source::Reader) {
                $(
                    reader.held(stringify!($field), &self.$field, $crate::record!(@hold $ty $(, $rule)?));
                )*
                $($( $between(reader, $(&self.$arg),+); )*)?
            }

            fn sample() -> $crate::source::Node {
                $crate::source::Node::map(::std::vec![$((
                    stringify!($field),
                    if <$ty as $crate::source::Read>::absent().is_some() {
                        $crate::source::Node::new($crate::source::Value::Null)
                    } else {
                        <$ty as $crate::source::Read>::sample()
                    },
                )),*])
            }

            fn leaves<R: $crate::source::rule::Rule>(_: &$crate::source::Door, visit: &mut dyn FnMut($crate::source::Leaf)) {
                $(
                    <$ty as $crate::source::Read>::leaves::<$crate::record!(@rule $($rule)?)>(
                        &$crate::source::Door {
                            record: stringify!($name),
                            field: stringify!($field),
                            listed: 0,
                            sample: <Self as $crate::source::Read>::sample,
                            read: |node| $crate::source::read_node::<Self>(node).map(|_| ()),
                        },
                        visit,
                    );
                )*
            }

            fn refer(shapes: &mut $crate::source::Shapes) -> ::serde_json::Value {
                shapes.refer_to(
                    stringify!($name),
                    ::core::any::type_name::<Self>(),
                    &[$($doc),*],
                    <Self as $crate::source::Read>::shape,
                )
            }

            fn shape(shapes: &mut $crate::source::Shapes) -> ::serde_json::Value {
                let schema = shapes.record(&[$($doc),*], &[$($crate::source::Shaped {
                    name: stringify!($field),
                    about: &[$($field_doc),*],
                    refer: <$ty as $crate::source::Read>::refer,
                    may_be_absent: $crate::record!(@absent $ty $(, $default)?),
                }),*]);
                $( let schema = $folded(schema); )?
                schema
            }
        }

        impl $crate::source::Write for $name {
            fn write(&self) -> $crate::source::Node {
                $crate::source::Node::written(&[$((stringify!($field), &self.$field)),*])
            }
            fn ranged(&self) -> bool {
                false $(|| $crate::source::Write::ranged(&self.$field))*
            }
            fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str, bool) -> $crate::source::End) {
                $crate::source::ranges_of(path, &mut [$((stringify!($field), &mut self.$field)),*], choose);
            }
        }
    };
    (@hold $ty:ty) => { <$ty as $crate::source::Read>::sized };
    (@hold $ty:ty, $rule:ty) => { <$ty as $crate::source::rule::Plain>::hold::<$rule> };
    (@absent $ty:ty) => { || <$ty as $crate::source::Read>::absent().is_some() };
    (@absent $ty:ty, $default:expr) => { || true };
    (@missing) => { ($crate::error::slug::SOURCE_FIELD_MISSING, "") };
    (@missing $code:ident $why:literal) => { ($crate::error::slug::$code, $why) };
    (@rule) => { $crate::source::rule::Any };
    (@rule $rule:ty) => { $rule };
    (@default $ty:ty) => { ::core::option::Option::None };
    (@default $ty:ty, $default:expr) => { ::core::option::Option::Some((|| $default) as fn() -> $ty) };
}

/// Makes a struct of results that is written to a tree, field by field, and so to JSON and
/// Python. The doc of a field states unit, sign and basis.
macro_rules! answer {
    (
        $(#[doc = $doc:expr])*
        pub struct $name:ident {
            $( $(#[doc = $field_doc:expr])* $field:ident : $ty:ty ),* $(,)?
        }
    ) => {
        $(#[doc = $doc])*
        #[derive(Clone, Debug, PartialEq)]
        #[non_exhaustive]
        pub struct $name {
            $( $(#[doc = $field_doc])* pub $field: $ty, )*
        }

        impl $crate::source::Write for $name {
            fn write(&self) -> $crate::source::Node {
                $crate::source::Node::written(&[$((stringify!($field), &self.$field)),*])
            }
        }
    };
}

/// Makes an enum of words: each variant has the text by which it is read and written.
///
/// ```
/// proofspan::choice! {
///     /// How a jack is driven.
///     pub enum Drive ("drive", source::SOURCE_CHOICE) {
///         /// By hand.
///         Hand = "hand",
///         /// By a motor.
///         Motor = "motor",
///     }
/// }
/// assert_eq!(Drive::Hand.word(), "hand");
/// ```
#[macro_export]
macro_rules! choice {
    (
        $(#[doc = $doc:expr])*
        pub enum $name:ident ($what:literal, $module:ident :: $slug:ident) {
            $( $(#[doc = $variant_doc:expr])* $variant:ident = $word:literal ),* $(,)?
        }
    ) => {
        $(#[doc = $doc])*
        #[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
        #[non_exhaustive]
        pub enum $name {
            $( $(#[doc = $variant_doc])* $variant, )*
        }

        impl $name {
            /// Every variant, in order.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];
            /// The accepted words, in order.
            pub const WORDS: &'static [&'static str] = &[$($word),*];

            /// The word used in reports, JSON and Python.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)* }
            }
        }

        impl ::core::convert::From<$name> for $crate::units::Said {
            fn from(word: $name) -> Self {
                Self::word(word.word())
            }
        }

        impl ::core::fmt::Display for $name {
            fn fmt(&self, f: &mut ::core::fmt::Formatter<'_>) -> ::core::fmt::Result {
                f.write_str(self.word())
            }
        }

        impl $crate::source::Read for $name {
            fn read(node: &$crate::source::Node, reader: &mut $crate::source::Reader) -> ::core::option::Option<Self> {
                let index = reader.word(node, $what, Self::WORDS, $crate::error::slug::$slug)?;
                Self::ALL.get(index).copied()
            }
            fn shape(_: &mut $crate::source::Shapes) -> ::serde_json::Value {
                $crate::source::shape_of_words(&[$($doc),*], Self::WORDS)
            }
            fn refer(shapes: &mut $crate::source::Shapes) -> ::serde_json::Value {
                shapes.refer_to(
                    stringify!($name),
                    ::core::any::type_name::<Self>(),
                    &[$($doc),*],
                    <Self as $crate::source::Read>::shape,
                )
            }
            fn sample() -> $crate::source::Node {
                $crate::source::Node::text(Self::WORDS.first().copied().unwrap_or_default())
            }
            fn leaves<R: $crate::source::rule::Rule>(door: &$crate::source::Door, visit: &mut dyn FnMut($crate::source::Leaf)) {
                visit($crate::source::Leaf::word(door, Self::WORDS));
            }
        }

        impl $crate::source::Write for $name {
            fn write(&self) -> $crate::source::Node {
                $crate::source::Node::text(self.word())
            }
        }
    };
}

/// Makes an enum of records told apart by the field `kind`.
macro_rules! variant {
    (
        $(#[doc = $doc:expr])*
        pub enum $name:ident ($what:literal) {
            $( $(#[doc = $variant_doc:expr])* $variant:ident ( $record:ty ) = $word:literal ),* $(,)?
        }
    ) => {
        $(#[doc = $doc])*
        #[derive(Clone, Debug, PartialEq)]
        #[allow(clippy::large_enum_variant, reason = "one input of a document, not many of them")]
        #[non_exhaustive]
        pub enum $name {
            $( $(#[doc = $variant_doc])* $variant($record), )*
        }

        impl $name {
            /// The accepted words of the field `kind`, in order.
            pub const WORDS: &'static [&'static str] = &[$($word),*];
        }

        impl $crate::source::Read for $name {
            fn read(node: &$crate::source::Node, reader: &mut $crate::source::Reader) -> ::core::option::Option<Self> {
                let (word, rest) = $crate::source::split_kind(node, reader, $what, Self::WORDS)?;
                $(
                    if word == $word {
                        return <$record as $crate::source::Read>::read(&rest, reader).map(Self::$variant);
                    }
                )*
                ::core::option::Option::None
            }
            fn validate(&self, reader: &mut $crate::source::Reader) {
                match self { $(Self::$variant(record) => $crate::source::Read::validate(record, reader),)* }
            }
            fn sample() -> $crate::source::Node {
                $(
                    if Self::WORDS.first() == ::core::option::Option::Some(&$word) {
                        return $crate::source::join_kind($word, <$record as $crate::source::Read>::sample());
                    }
                )*
                $crate::source::Node::new($crate::source::Value::Null)
            }
            fn leaves<R: $crate::source::rule::Rule>(door: &$crate::source::Door, visit: &mut dyn FnMut($crate::source::Leaf)) {
                $(<$record as $crate::source::Read>::leaves::<R>(door, visit);)*
            }
            fn refer(shapes: &mut $crate::source::Shapes) -> ::serde_json::Value {
                shapes.refer_to(
                    stringify!($name),
                    ::core::any::type_name::<Self>(),
                    &[$($doc),*],
                    <Self as $crate::source::Read>::shape,
                )
            }
            fn shape(shapes: &mut $crate::source::Shapes) -> ::serde_json::Value {
                shapes.kinds(&[$($doc),*], &[$(($word, <$record as $crate::source::Read>::shape)),*])
            }
        }

        impl $crate::source::Write for $name {
            fn write(&self) -> $crate::source::Node {
                match self {
                    $(Self::$variant(record) => $crate::source::join_kind($word, $crate::source::Write::write(record)),)*
                }
            }
            fn ranged(&self) -> bool {
                match self { $(Self::$variant(record) => $crate::source::Write::ranged(record),)* }
            }
            fn ranges(&mut self, path: &str, choose: &mut dyn FnMut(&str, bool) -> $crate::source::End) {
                match self { $(Self::$variant(record) => $crate::source::Write::ranges(record, path, choose),)* }
            }
        }
    };
}

pub(crate) use {answer, variant};

use super::read::Reader;
use super::tree::{Entry, Node, Value};
use crate::error::slug;

/// The word of the field `kind`, and the other fields.
#[doc(hidden)]
pub fn split_kind(
    node: &Node,
    reader: &mut Reader,
    what: &str,
    words: &[&'static str],
) -> Option<(&'static str, Node)> {
    let Value::Map(entries) = &node.value else {
        reader.refuse(
            slug::SOURCE_TYPE,
            format!("{what} is an object with the field `kind`; here is {}", node.type_word()),
            node,
        );
        return None;
    };
    let kind: Option<usize> = match entries.iter().find(|e| e.key == "kind") {
        Some(entry) => {
            reader.field("kind", |r| r.word(&entry.node, what, words, slug::SOURCE_CHOICE))
        }
        None => {
            let path = reader.path_of("kind");
            reader.push(
                crate::error::Issue::new(
                    slug::SOURCE_FIELD_MISSING,
                    path,
                    format!("the kind of {what} is missing"),
                )
                .limit(words.join(", ")),
            );
            None
        }
    };
    let rest = entries.iter().filter(|e| e.key != "kind").cloned().collect();
    Some((words.get(kind?).copied()?, Node { value: Value::Map(rest), place: node.place }))
}

/// The fields of a record with `kind` in front.
#[doc(hidden)]
#[must_use]
pub fn join_kind(word: &str, node: Node) -> Node {
    let mut entries = vec![Entry { key: "kind".to_owned(), node: Node::text(word) }];
    if let Value::Map(rest) = node.value {
        entries.extend(rest);
    }
    Node::new(Value::Map(entries))
}
