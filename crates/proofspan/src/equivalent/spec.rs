//! What the engineer asks of the layout.

use super::overshoot::Effect;
use crate::error::{Issue, slug};
use crate::source::rule::Positive;
use crate::source::{Given, Reader};
use crate::units::{Length, LoadBasis};

crate::choice! {
    /// Net or total.
    pub enum BasisWord ("load basis", source::SOURCE_CHOICE) {
        /// What the rig adds.
        Net = "net",
        /// With what is in place.
        Total = "total",
    }
}

impl BasisWord {
    /// The basis.
    #[must_use]
    pub const fn basis(self) -> LoadBasis {
        match self {
            Self::Net => LoadBasis::Net,
            Self::Total => LoadBasis::Total,
        }
    }
}

crate::choice! {
    /// How the ends of the member are held.
    pub enum Ends ("end condition", source::SOURCE_CHOICE) {
        /// Seated on bearings, shown free to turn.
        Seated = "seated",
        /// Cast in place: unknown between pinned and fixed.
        CastInPlace = "cast_in_place",
    }
}

crate::rule! {
    /// A place on the member, from its left end.
    pub Contact { least 0.0 EQUIVALENT_JACK_OUTSIDE }
    /// A length of a plate or bearing along the member: up to ten metres (library rule).
    pub Plate { least 0.0 SOURCE_NEGATIVE, most 10.0 SOURCE_MAGNITUDE }
    /// A limit of overshoot, test over reference.
    pub Cap { least 1.0 EQUIVALENT_CAP_BELOW_ONE, most 1e6 SOURCE_MAGNITUDE }
}

crate::record! {
    /// One line of jacks across the member unit.
    pub struct JackLineSpec {
        /// Its place from the left end; searched where it is left out.
        at: Option<Given<Length, Contact>>,
        /// Left end of the places that are allowed.
        search_from: Option<Given<Length, Contact>>,
        /// Right end of the places that are allowed.
        search_to: Option<Given<Length, Contact>>,
    }
}

crate::record! {
    /// One jack on a spreader with two contact points. The jack stands in the middle, so each
    /// contact takes half.
    pub struct SpreaderSpec {
        /// The two contact points from the left end; searched where they are left out.
        contacts: Vec<Given<Length, Contact>> = Vec::new(),
        /// Distance of the contact points, where they are searched.
        spacing: Option<Given<Length, Positive>>,
        /// Left end of the places that are allowed to a contact.
        search_from: Option<Given<Length, Contact>>,
        /// Right end of the places that are allowed to a contact.
        search_to: Option<Given<Length, Contact>>,
    }
    rules { two_contacts[contacts, spacing]; }
}

fn two_contacts(
    reader: &mut Reader,
    contacts: &Vec<Given<Length, Contact>>,
    spacing: &Option<Given<Length, Positive>>,
) {
    let path = reader.path_of("contacts");
    match (contacts.as_slice(), spacing) {
        ([a, b], None) if a.value < b.value => {}
        ([a, b], None) => {
            let slug = if a.value > b.value {
                slug::SCOPE_REGION_REVERSED
            } else {
                slug::EQUIVALENT_JACK_DUPLICATE
            };
            reader.push(
                Issue::new(slug, path, "the contact points are not two places from left to right")
                    .value(format!("{}, {}", a.shown(), b.shown())),
            );
        }
        ([], Some(_)) => {}
        _ => reader.push(Issue::new(
            slug::EQUIVALENT_CONTACTS,
            path,
            "a spreader has two contact points, or a spacing above zero to search with",
        )),
    }
}

crate::variant! {
    /// What brings the load on.
    pub enum Carrier ("carrier") {
        /// One line of jacks.
        JackLine(JackLineSpec) = "jack_line",
        /// One jack on a spreader with two contact points.
        Spreader(SpreaderSpec) = "spreader",
    }
}

crate::record! {
    /// A limit on how far the test may exceed the reference inside the region in doubt.
    pub struct OvershootLimit {
        /// Shear or moment.
        effect: Effect,
        /// Net or total; a limit without it means nothing.
        basis: BasisWord => LOADS_BASIS_MISSING "does the limit hold for the net or for the total load?",
        /// Test over reference, at least 1.
        at_most: f64 where Cap,
    }
}

crate::record! {
    /// The layout asked for.
    pub struct LayoutSpec {
        /// What brings the load on.
        carrier: Carrier,
        /// Effects to be reproduced for every x of the region; by default moment, and shear where shear is in doubt.
        reproduce: Option<Vec<Effect>>,
        /// Limits of overshoot inside the region in doubt.
        limits: Vec<OvershootLimit> = Vec::new(),
        /// Length of the plate under a contact, along the member: shear falls at its edge.
        plate_length: Given<Length, Plate> = Given::known(Length::ZERO),
        /// Length of the bearing along the member.
        bearing_length: Given<Length, Plate> = Given::known(Length::ZERO),
        /// How the ends are held.
        ends: Ends = Ends::CastInPlace,
    }
    rules { something_asked[reproduce]; }
}

fn something_asked(reader: &mut Reader, reproduce: &Option<Vec<Effect>>) {
    if reproduce.as_ref().is_some_and(Vec::is_empty) {
        let path = reader.path_of("reproduce");
        reader.push(
            Issue::new(slug::EQUIVALENT_EFFECTS_NONE, path, "no effect is asked to be reproduced")
                .limit(Effect::WORDS.join(", ")),
        );
    }
}
