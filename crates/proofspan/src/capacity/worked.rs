//! What comes first, redone with a pencil.

use super::along::{CapacitySpec, SectionStretch};
use super::predicted::Predicted;
use super::shear::Acting;
use crate::beam::{Response, Side};
use crate::error::Error;
use crate::formula::{Recorder as _, Working};
use crate::units::{Force, Length, Message};

impl CapacitySpec {
    /// The stretch whose section was looked at: of two that meet, the one that decides stands first.
    fn stretches(&self, x: Length, length: Length) -> impl Iterator<Item = &SectionStretch> {
        let ends: Vec<Length> =
            self.sections.iter().skip(1).map(|s| s.from.value).chain([length]).collect();
        let holds = move |(s, end): &(&SectionStretch, Length)| s.from.value <= x && x <= *end;
        self.sections.iter().zip(ends).filter(holds).map(|(s, _)| s)
    }

    /// The places that come first, with a recorder on.
    ///
    /// # Errors
    /// None that the prediction itself did not have.
    pub(crate) fn work(
        &self,
        working: &mut Working,
        (in_place, test): (&Response, &Response),
        found: &Predicted,
    ) -> Result<(), Error> {
        let length = test.length();
        let firsts = [("cracks", &found.cracks_first), ("fails in flexure", &found.fails_first)];
        for (how, first) in firsts.into_iter().filter_map(|(how, f)| Some((how, f.as_ref()?))) {
            let x = first.at;
            let moment = |r: &Response| r.inside().moment(x, Side::Right);
            for stretch in self.stretches(x, length) {
                let text = "Predicted: where it {} first, at {}";
                let mut own = Working::default();
                own.about(|| Message::new(text, [how.into(), x.into()]));
                let again =
                    self.section(&mut own, stretch, x, length, (moment(in_place), moment(test)))?;
                if again == *first {
                    working.append(own);
                    break;
                }
            }
        }
        if let (Some(first), Some(code)) = (&found.shear_first, self.shear_code()) {
            let acting = Acting { in_place, test };
            for stretch in self.stretches(first.at, length) {
                let cut = stretch.section.at(first.at, length);
                let mut own = Working::default();
                let text = "Predicted: where it fails in shear first, at {}";
                own.about(|| Message::new(text, [first.at.into()]));
                let asked = self.asks_shear(code, stretch);
                let again = asked.at(&mut own, &cut, acting, Force::ZERO)?;
                if again.ok().flatten().as_ref() == Some(first) {
                    working.append(own);
                    break;
                }
            }
        }
        Ok(())
    }
}
