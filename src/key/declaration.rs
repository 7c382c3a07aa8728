//! The one declaration of a parameter. Its form, the same in all macros:
//!
//! ```text
//! /// meaning, as every output says it
//! field: Kind(type) "symbol", Range, "title in the words of the trade", usually LOW to HIGH, or none;
//! ```
//!
//! `Kind` is a [`Dimension`](crate::units::Dimension) or one of the other kinds; the type is `f64` where none is said. Type, symbol,
//! usual sizes (SI) and `or none` (can be taken away) may be left out; further lines of the comment are for the reader of the code. A
//! field's documentation states symbol and unit by itself.

/// A key.
macro_rules! stated_as {
    ($name:ident, $title:literal, $kind:expr, $range:ident, $meaning:literal, [$($low:literal to $high:literal)?], [$($none:ident)?]) => {
        $crate::key::Key {
            name: stringify!($name),
            title: $title,
            kind: $kind,
            range: $crate::key::Range::$range,
            meaning: $crate::key::trimmed($meaning),
            usual: $crate::key::stated_as!(@usual $($low $high)?),
            removable: $crate::key::stated_as!(@removable $($none)?),
        }
    };
    (@usual) => { None };
    (@usual $low:literal $high:literal) => { Some(($low, $high)) };
    (@removable) => { false };
    (@removable none) => { true };
}

/// The kind that a word of a declaration stands for.
macro_rules! kind {
    (Text) => { $crate::key::Kind::Text };
    (Path) => { $crate::key::Kind::Path };
    (AxisEnd) => { $crate::key::Kind::AxisEnd };
    (Count) => { $crate::key::Kind::Count };
    (Attitude) => { $crate::key::Kind::Attitude($crate::key::ATTITUDES) };
    (Word($($word:expr),+)) => { $crate::key::Kind::Word(&[$($word),+]) };
    ($dimension:ident) => { $crate::key::Kind::Quantity($crate::units::Dimension::$dimension) };
}

/// The SI unit of a kind of number.
macro_rules! unit {
    (Count) => {
        "1"
    };
    (Attitude) => {
        "rad"
    };
    ($dimension:ident) => {
        $crate::units::si!($dimension)
    };
}

/// The type of a field.
macro_rules! field_type {
    () => {
        f64
    };
    ($type:ty) => {
        $type
    };
}

/// Keys that fill no field of a part.
macro_rules! keys {
    ($(
        $NAME:ident {
            $(
                #[doc = $meaning:literal]
                $key:ident: $kind:ident $(($($word:expr),+))?, $range:ident, $title:literal
                $(, usually $low:literal to $high:literal)? $(, or $none:ident)?;
            )+
        }
    )+) => {
        $(
            static $NAME: &[$crate::key::Key] = &[$(
                $crate::key::stated_as!(
                    $key, $title, $crate::key::kind!($kind $(($($word),+))?), $range, $meaning, [$($low to $high)?], [$($none)?]
                ),
            )+];
        )+
    };
}

/// A part and the keys of its fields, each under the name of the field; what follows behind `and` has no key.
macro_rules! declared {
    (
        $(#[$about:meta])*
        pub struct $Part:ident {
            $(
                #[doc = $meaning:literal] $(#[doc = $more:literal])*
                $field:ident: $kind:ident $(($type:ty))? $($symbol:literal)?, $range:ident, $title:literal
                $(, usually $low:literal to $high:literal)? $(, or $none:ident)?;
            )+
        }
        $(and { $( $(#[$other_about:meta])* $other:ident: $other_type:ty; )+ })?
    ) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $Part {
            $(
                #[doc = $meaning]
                #[doc = concat!(" (", $($symbol, ", ",)? $crate::key::unit!($kind), ").")]
                $(#[doc = $more])*
                pub $field: $crate::key::field_type!($($type)?),
            )+
            $($( $(#[$other_about])* pub $other: $other_type, )+)?
        }

        #[allow(non_upper_case_globals)]
        impl $Part {
            $(
                #[doc = concat!("How `", stringify!($field), "` is stated.")]
                pub const $field: $crate::key::Key = $crate::key::stated_as!(
                    $field, $title, $crate::key::kind!($kind), $range, $meaning, [$($low to $high)?], [$($none)?]
                );
            )+

            /// How all of it is stated, in the order in which it is best written.
            pub const KEYS: &'static [$crate::key::Key] = &[$($Part::$field),+];
        }
    };
}

/// The same with its reader: all that has a key is taken in order; what has none is then handed over.
macro_rules! part {
    (
        $(#[$about:meta])*
        pub struct $Part:ident {
            $(
                #[doc = $meaning:literal] $(#[doc = $more:literal])*
                $field:ident: $kind:ident $(($type:ty))? $($symbol:literal)?, $range:ident, $title:literal
                $(, usually $low:literal to $high:literal)? $(, or $none:ident)?;
            )+
        }
        $(and { $( $(#[$other_about:meta])* $other:ident: $other_type:ty; )+ })?
    ) => {
        $crate::key::declared! {
            $(#[$about])*
            pub struct $Part {
                $(
                    #[doc = $meaning] $(#[doc = $more])*
                    $field: $kind $(($type))? $($symbol)?, $range, $title $(, usually $low to $high)? $(, or $none)?;
                )+
            }
            $(and { $( $(#[$other_about])* $other: $other_type; )+ })?
        }
        $crate::key::reader!($Part { $($field)+ } $($($other: $other_type,)+)?);
    };
}

/// The reader of a part.
macro_rules! reader {
    ($Part:ident { $($field:ident)+ }) => {
        impl $Part {
            /// Reads it.
            pub fn read(stated: &mut dyn $crate::key::Stated) -> $Part {
                $Part { $($field: $crate::key::Field::taken(stated, &$Part::$field),)+ }
            }
        }
    };
    ($Part:ident { $($field:ident)+ } $($other:ident: $other_type:ty,)+) => {
        impl $Part {
            /// Reads its own numbers; the parts within it, which may have to be read after these, are then handed over.
            pub fn read(stated: &mut dyn $crate::key::Stated) -> impl FnOnce($($other_type),+) -> $Part + use<> {
                $(let $field = $crate::key::Field::taken(stated, &$Part::$field);)+
                move |$($other: $other_type),+| $Part { $($field,)+ $($other,)+ }
            }
        }
    };
}

/// A thing that can be one of several, with the keys and the reader of each.
macro_rules! ways {
    (
        $(#[$about:meta])*
        pub enum $Kind:ident {
            $(
                $(#[$way_about:meta])*
                $Way:ident {
                    $(
                        #[doc = $meaning:literal] $(#[doc = $more:literal])*
                        $field:ident: $kind:ident $($symbol:literal)?, $range:ident, $title:literal
                        $(, usually $low:literal to $high:literal)? $(, or $none:ident)?;
                    )+
                }
            )+
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq)]
        pub enum $Kind {
            $(
                $(#[$way_about])*
                $Way {
                    $(
                        #[doc = $meaning]
                        #[doc = concat!(" (", $($symbol, ", ",)? $crate::key::unit!($kind), ").")]
                        $(#[doc = $more])*
                        $field: f64,
                    )+
                },
            )+
        }

        impl $Kind {
            /// What it can be: how each is stated and read.
            #[allow(non_upper_case_globals)]
            pub const WAYS: &'static [$crate::key::Way<$Kind>] = &[
                $({
                    $(const $field: $crate::key::Key = $crate::key::stated_as!(
                        $field, $title, $crate::key::kind!($kind), $range, $meaning, [$($low to $high)?], [$($none)?]
                    );)+
                    const KEYS: &[$crate::key::Key] = &[$($field),+];
                    fn read(stated: &mut dyn $crate::key::Stated) -> $Kind {
                        $Kind::$Way { $($field: stated.number(&$field),)+ }
                    }
                    $crate::key::Way { keys: KEYS, read }
                },)+
            ];
        }
    };
}

pub(crate) use {declared, field_type, keys, kind, part, reader, stated_as, unit, ways};
