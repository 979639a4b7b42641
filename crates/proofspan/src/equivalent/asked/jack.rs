//! One line of jacks, or one jack on a spreader.

use crate::error::{Issue, slug};
use crate::source::rule::Positive;
use crate::source::{Given, Reader};
use crate::units::{Force, Length, Message};

crate::rule! {
    /// A place on the member, from its left end.
    pub Contact { least 0.0 EQUIVALENT_JACK_OUTSIDE }
    /// A length of a plate or bearing along the member: up to ten metres (library rule).
    pub Plate { least 0.0 SOURCE_NEGATIVE, most 10.0 SOURCE_MAGNITUDE }
    /// A share of a force.
    pub ShareOfForce { above 0.0 EQUIVALENT_CANDIDATE, most 1.0 EQUIVALENT_CANDIDATE }
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
    rules { stands_or_is_searched[at, search_from, search_to]; }
}

/// A place that is given is not searched.
fn stands_or_is_searched(
    reader: &mut Reader,
    at: &Option<Given<Length, Contact>>,
    from: &Option<Given<Length, Contact>>,
    to: &Option<Given<Length, Contact>>,
) {
    let Some(at) = at else { return };
    for (name, end) in [("search_from", from), ("search_to", to)] {
        if let Some(end) = end {
            let path = reader.path_of(name);
            let message = Message::new("the line stands at {}: no place is searched", [at.said()]);
            reader.push(Issue::new(slug::SOURCE_CONTRADICTION, path, message).value(end.said()));
        }
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
                    .value(Message::new("{}, {}", [a.said(), b.said()])),
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
