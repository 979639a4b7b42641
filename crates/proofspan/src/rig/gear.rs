//! Beams, jack trains and holes of the rig, as a document describes them.

use super::reaction::{GearLength, RigPlace};
use super::sideways::Sideways;
use crate::error::{Issue, slug};
use crate::source::rule::{AtLeastOne, Movement, Positive};
use crate::source::{Given, Reader};
use crate::units::{
    Area, AxialRigidity, FlexuralRigidity, Force, Length, Message, Moment, Ratio, Stress,
};

crate::rule! {
    /// How many rocking seats stand at one end: none to ten.
    pub Seats { least 0.0 SOURCE_NEGATIVE, most 10.0 SOURCE_MAGNITUDE }
    /// A tilt, rise over length: up to a fifth (library rule).
    pub Tilt { least 0.0 SOURCE_NEGATIVE, most 0.2 SOURCE_MAGNITUDE }
}

crate::choice! {
    /// What loads a beam of the rig.
    pub enum BeamUse ("use of a beam", source::SOURCE_CHOICE) {
        /// A jack in its middle: it spreads one press to two contacts.
        Jack = "jack",
        /// Bars at its ends: it holds the reaction member with its middle.
        Bars = "bars",
    }
}

crate::record! {
    /// A spreader or a reaction beam: a simple beam between its outer contacts, loaded in the middle.
    pub struct RigBeam {
        /// What it is called.
        id: String,
        /// What loads it.
        carries: BeamUse,
        /// Between its outer contacts.
        span: Given<Length, GearLength>,
        /// Length of the contact in its middle.
        contact: Given<Length, Movement> = Given::known(Length::ZERO),
        /// How far the force may stand off its middle: the nearer end takes more.
        off: Given<Length, Movement> = Given::known(Length::ZERO),
        /// Its flexural rigidity.
        rigidity: Given<FlexuralRigidity, Positive>,
        /// Its design strength in bending.
        moment: Given<Moment, Positive> => RIG_BEAM_STRENGTH "a beam of unknown strength holds nothing",
        /// Its design strength in shear.
        shear: Given<Force, Positive> => RIG_BEAM_STRENGTH "a beam of unknown strength holds nothing",
        /// What its web takes under the force in its middle, stiffeners included.
        web: Option<Given<Force, Positive>>,
        /// How far its seats let it tilt, rise over length, where its contacts settle unequally.
        tilts: Option<Given<Ratio, Tilt>>,
        /// Whether it is shown that it cannot buckle or roll over sideways.
        held_sideways: bool = false,
        /// What is known of it where it may: the moment at which it buckles is computed.
        sideways: Option<Sideways>,
        /// On the force of the jacks (common practice: 1.5).
        factor: Ratio where AtLeastOne = Ratio::from_si(1.5),
    }
    rules { off_within[span, off, contact]; }
}

fn off_within(
    reader: &mut Reader,
    span: &Given<Length, GearLength>,
    off: &Given<Length, Movement>,
    contact: &Given<Length, Movement>,
) {
    if contact.high() > span.low() {
        let path = reader.path_of("contact");
        let message = "the contact in the middle reaches beyond the outer contacts";
        let issue = Issue::new(slug::RIG_BARS_UNSTABLE, path, message).value(contact.said());
        reader.push(issue.limit(Message::new("at most {}", [span.said()])));
    }
    if off.value * 2.0 >= span.value {
        let path = reader.path_of("off");
        let message = "the force would tip the beam off its contacts";
        let issue = Issue::new(slug::RIG_BARS_UNSTABLE, path, message).value(off.said());
        reader.push(issue.limit(Message::new("below half of {}", [span.said()])));
    }
}

crate::record! {
    /// The jack with cell, plates and seats, on its way between the two members: a column.
    pub struct Train {
        /// The width of its smallest plate.
        plate: Given<Length, GearLength>,
        /// Rocking seats at its head: two in line are a mechanism.
        seats_top: u32 where Seats = 0,
        /// Rocking seats at its foot.
        seats_bottom: u32 where Seats = 0,
        /// How far its parts may stand off its line; at least 5 % of the plate is counted.
        offset: Given<Length, Movement> = Given::known(Length::ZERO),
        /// What the cylinder takes sideways, from its supplier.
        lateral: Given<Force, Positive> => RIG_TRAIN_STRENGTH "a cylinder whose sideways limit is not known takes none",
        /// What the train takes in bending.
        moment: Option<Given<Moment, Positive>>,
        /// Whether it is braced both ways.
        braced: bool = false,
        /// Whether every loose part is retained when the load vanishes.
        retained: bool = false,
    }
}

crate::choice! {
    /// What is cut.
    pub enum Opening ("opening", source::SOURCE_CHOICE) {
        /// A hole, for a bar.
        Hole = "hole",
        /// A saw cut: an alteration of the member.
        Cut = "cut",
    }
}

crate::choice! {
    /// Of which member.
    pub enum OpeningIn ("member that is cut", source::SOURCE_CHOICE) {
        /// The member under test or its slab.
        Test = "test",
        /// The reaction member or its slab.
        Reaction = "reaction",
    }
}

crate::record! {
    /// A hole or cut that the rig needs.
    pub struct Hole {
        /// Its place from the left end of the member under test.
        at: Given<Length, RigPlace>,
        /// What it is.
        what: Opening = Opening::Hole,
        /// Of which member.
        of: OpeningIn,
        /// The record of the scan that shows bars, tendons and services there.
        scan: Option<String>,
        /// The check of the member with it.
        recheck: Option<String>,
    }
}

crate::laws! {
    /// Bending of a beam of the rig, its force on a contact in its middle.
    pub fn beam_moment(f: Force as "F", s: Length as "s", c: Length as "c") -> Moment as "M" = f * (s / 4.0 - c / 8.0);
    source "statics of a simple beam, force spread over c";
    /// Force at the end of a beam of the rig that the force stands nearer to.
    pub fn nearer_end(f: Force as "F", off: Length as "e", s: Length as "s") -> Force as "V" = f * (0.5 + off / s);
    source "moments about the other end";
    /// Tilt of a beam between bars at its ends, of which the one end has fewer and stands nearer to the force.
    pub fn bars_tilt(near: Force as "V", n: f64 as "n_near", all: Force as "F", m: f64 as "n_far", l: Length as "l", ea: AxialRigidity as "E A", s: Length as "s") -> f64 as "tilt" = (near / n - (all - near) / m) / ea * l / s;
    source "Hooke at either end";
    /// Tilt of a crosshead that its places give under.
    pub fn crosshead_tilt(first: Length as "s_first", last: Length as "s_last", apart: Length as "distance") -> f64 as "tilt" = abs(last - first) / apart;
    source "bars by Hooke, and what they pull on";
    /// Sideways force of a jack train.
    pub fn sideways(p: Force as "P", part: f64 as "part") -> Force as "H" = p * part;
    source "2.5 % of the vertical (common practice, no source), or the tilt of what it stands on";
    /// Stress of a bar.
    pub fn bar_stress(p: Force as "P_bar", a: Area as "A") -> Stress as "sigma" = Stress::over(p, a);
    source "definition";
}

/// Deflection of a beam of the rig under a force in its middle: F s³/48EI.
pub(super) fn deflects(beam: &RigBeam, force: Force) -> Length {
    let s = beam.span.value.si();
    Length::from_si(force.si() * s.powi(3) / (48.0 * beam.rigidity.value.si()))
}

crate::answer! {
    /// One beam of the rig under the press that asks most of it; forces without the factor.
    pub struct BeamCheck {
        /// What it is called.
        id: String,
        /// The force in its middle.
        force: Force,
        /// Its bending moment.
        moment: Moment,
        /// Its shear.
        shear: Force,
        /// How far it gives.
        deflection: Length,
        /// The moment that it takes before it buckles sideways; nothing where that is not computed.
        sideways: Option<Moment>,
        /// How far it tilts, rise over length, soft prediction: of one that a jack loads, the member gives way
        /// differently under its contacts; of one between bars, they stretch unequally. Nothing where that is
        /// not known.
        tilt: Option<Ratio>,
    }
}

crate::answer! {
    /// The jack train under the most that one jack gives.
    pub struct TrainCheck {
        /// That force.
        force: Force,
        /// What it takes sideways.
        sideways: Force,
        /// The eccentricity that is counted.
        eccentricity: Length,
        /// The moment of both.
        moment: Moment,
    }
}
