//! What the engineer asks of the layout.

use super::as_built::Deviations;
use super::carrier::{Carrier, ShareOfForce};
use super::objective::Objective;
use super::overshoot::Effect;
use super::require::Requirement;
use crate::error::{Issue, slug};
use crate::source::rule::Positive;
use crate::source::{Given, Reader, Several};
use crate::units::{Force, Length, LoadBasis};

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
    /// How many carriers are chosen: one to twelve (library rule).
    pub Count12 { least 1.0 SOURCE_SIGN, most 12.0 SOURCE_MAGNITUDE }
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
        /// The force on one member unit, net, where it is settled; found where it is left out.
        force: Option<Given<Force, Positive>>,
        /// The largest force that the line may bring on one member unit.
        capacity: Option<Given<Force, Positive>>,
        /// The force is rounded up to a multiple of this.
        step: Option<Given<Force, Positive>>,
        /// The circuit of hydraulics that drives it.
        circuit: Option<String>,
    }
}

crate::record! {
    /// One jack on a spreader with two or more contact points. The jack of a spreader with two stands in
    /// the middle, so that each contact takes half, unless shares are given; shares of more follow from
    /// the levers of the spreader, and are given.
    pub struct SpreaderSpec {
        /// The contact points from the left end; searched where they are left out.
        contacts: Vec<Given<Length, Contact>> = Vec::new(),
        /// Share of the force of each contact, by the levers of the spreader.
        shares: Option<Vec<f64>> where ShareOfForce,
        /// Distance of the contact points, where they are searched.
        spacing: Option<Given<Length, Positive>>,
        /// Left end of the places that are allowed to a contact.
        search_from: Option<Given<Length, Contact>>,
        /// Right end of the places that are allowed to a contact.
        search_to: Option<Given<Length, Contact>>,
        /// The force on one member unit, net, where it is settled; found where it is left out.
        force: Option<Given<Force, Positive>>,
        /// The largest force of the jack on one member unit.
        capacity: Option<Given<Force, Positive>>,
        /// The force is rounded up to a multiple of this.
        step: Option<Given<Force, Positive>>,
        /// The circuit of hydraulics that drives it.
        circuit: Option<String>,
    }
    rules { two_contacts[contacts, spacing]; shares_fit[contacts, shares]; }
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
        ([_, _, _, ..], None) => {
            let rises =
                contacts.iter().zip(contacts.iter().skip(1)).all(|(a, b)| a.value < b.value);
            if !rises || contacts.len() > 4 {
                let message = "the contact points are not up to four places from left to right";
                reader.push(Issue::new(slug::EQUIVALENT_CONTACTS, path, message));
            }
        }
        _ => reader.push(Issue::new(
            slug::EQUIVALENT_CONTACTS,
            path,
            "a spreader has two contact points, or a spacing above zero to search with",
        )),
    }
}

fn shares_fit(
    reader: &mut Reader,
    contacts: &Vec<Given<Length, Contact>>,
    shares: &Option<Vec<f64>>,
) {
    let path = reader.path_of("shares");
    let refuse = |reader: &mut Reader, message: String| {
        let issue = Issue::new(slug::EQUIVALENT_CONTACTS, path, message);
        reader.push(issue.limit("one a contact, adding up to 1"));
    };
    match shares {
        None if contacts.len() > 2 => {
            refuse(
                reader,
                "the shares of more than two contacts follow from levers that are not told"
                    .to_owned(),
            );
        }
        Some(list) if !contacts.is_empty() && list.len() != contacts.len() => {
            refuse(reader, format!("{} shares of {} contacts", list.len(), contacts.len()));
        }
        Some(list) if (list.iter().sum::<f64>() - 1.0).abs() > 1e-9 => {
            refuse(reader, format!("the shares add up to {}", list.iter().sum::<f64>()));
        }
        _ => {}
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
    /// A search for places: copies of the carrier on a grid of places, the best few of them in use.
    pub struct SearchSpec {
        /// How many may be used on one member unit.
        most: u32 where Count12,
        /// Distance of the places that are tried.
        step: Given<Length, Positive>,
        /// Clear distance between two of them.
        clear: Option<Given<Length, Plate>>,
    }
}

crate::record! {
    /// The layout asked for.
    pub struct LayoutSpec {
        /// What brings the load on: one carrier or several.
        carrier: Several<Carrier>,
        /// Where places are searched for several carriers, or their number is open.
        search: Option<SearchSpec>,
        /// What else must hold, besides what is to be reproduced.
        requirements: Vec<Requirement> = Vec::new(),
        /// What is made small, the first before the second; the total force where it is left out.
        objectives: Vec<Objective> = Vec::new(),
        /// What may be built otherwise than drawn; nothing is tried where it is left out.
        deviations: Option<Deviations>,
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
