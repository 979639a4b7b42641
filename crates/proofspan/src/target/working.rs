//! Shear and moment at a place, by hand: resultants, reactions, what is left of the place.

use super::governing::Asked;
use super::terms::Target;
use crate::beam::{Cut, Load, Side, Sought, Together, by_coefficients, on_spans};
use crate::formula::{Recorder, Working};
use crate::units::{Force, Kind, Length, LineLoad, Message, Moment, Quantified, Quantity};

crate::laws! {
    /// Net line load of one action in a combination: factored, less what is in place.
    pub fn net_line(gamma: f64 as "gamma", w: LineLoad as "w", share: f64 as "in place") -> LineLoad as "w_net" = (gamma - share) * w;
    source "deduction at the actual value, factor 1.0 (common practice, no source)";
}

impl Target {
    /// Net shear and moment of a term at `x`, redone by hand: by a cut where equilibrium gives the
    /// reactions, else load by load by coefficients of the place.
    pub(crate) fn record_at<R: Recorder>(
        &self,
        recorder: &mut R,
        term: usize,
        x: Length,
        side: Side,
    ) -> Option<(Force, Moment)> {
        let term_here = self.terms.get(term)?;
        let row = self.rows.get(term_here.row)?;
        let mut cut = Cut::new(&self.beam, x, side);
        let mut singly: Vec<Together> = Vec::new();
        let spans = self.beam.spans();
        let name = self.term_name(term).to_owned();
        recorder.about(|| {
            let side = if side == Side::Left { "left" } else { "right" };
            Message::new(
                "Term {}, net, at x = {} ({} side)",
                [(&name).into(), x.into(), side.into()],
            )
        });
        for n in &self.nominal {
            let factor = row.factor(n.symbol);
            let name = n.symbol;
            // a pattern cuts what varies; each part has its own factor
            let parts = match (&term_here.pattern, n.varies) {
                (Some(pattern), true) => on_spans(n.load, &spans)
                    .into_iter()
                    .zip(&pattern.loaded)
                    .filter_map(|(load, on)| Some((load?, if *on { factor } else { 0.0 })))
                    .collect(),
                _ => vec![(n.load, factor)],
            };
            for (n_load, gamma) in parts {
                if (gamma - n.in_place).abs() <= 0.0 {
                    continue;
                }
                if n_load.resultant().abs() <= Force::ZERO {
                    recorder.about(|| format!("{name}: not applicable, no load of this action"));
                    continue;
                }
                recorder.about(|| {
                    let values = [name.word().into(), gamma.into(), n.in_place.into()];
                    Message::new("{}: factor {}, in place {}", values)
                });
                let net = match n_load {
                    Load::Line { from, to, w_from, w_to } => {
                        let wa = if w_from.si().abs() > 0.0 {
                            net_line(recorder, gamma, w_from, n.in_place)
                        } else {
                            w_from
                        };
                        let wb = match (w_to == w_from, w_to.si().abs() > 0.0) {
                            (true, _) => wa,
                            (false, true) => net_line(recorder, gamma, w_to, n.in_place),
                            (false, false) => w_to,
                        };
                        Load::Line { from, to, w_from: wa, w_to: wb }
                    }
                    Load::Point { at, force } => Load::point(at, force * (gamma - n.in_place)),
                    _ => return None,
                };
                match &mut cut {
                    Some(cut) => cut.load(recorder, net)?,
                    None => {
                        singly.push(Together { name: name.word().into(), ..Together::of(net)? });
                    }
                }
            }
        }
        if let Some(cut) = cut {
            return Some(cut.found(recorder));
        }
        let shear = term_here.net.inside().shear(x, side);
        let moment = term_here.net.inside().moment(x, side);
        let sought = [(Sought::Shear(x, side), shear.si()), (Sought::Moment(x, side), moment.si())];
        by_coefficients(recorder, &self.beam, &singly, &sought)?;
        Some((shear, moment))
    }

    /// Where the loads one by one do not add up to what acts (a bearing that lifts): the values, and how well the whole
    /// member balances.
    fn residual_at(&self, working: &mut Working, term: usize, x: Length, side: Side) {
        let Some(term) = self.terms.get(term) else { return };
        let Some(last) = term.net.segments().last() else { return };
        let size: f64 = term.net.reactions().iter().map(|r| r.force.abs().si()).sum();
        // V at the far end, less the reaction there, must vanish
        let end = last.shear().at(last.length);
        let reaction = term.net.reactions().last().filter(|r| r.at.si() >= last.end() - 1e-9);
        let open = (end + reaction.map_or(0.0, |r| r.force.si())).abs();
        let residual = if size > 0.0 { open / size } else { open };
        let shear = Quantity::new(Kind::Force, term.net.inside().shear(x, side).si());
        let moment = Quantity::new(Kind::Moment, term.net.inside().moment(x, side).si());
        let of = |template| Message::new(template, [(&term.id).into(), x.into()]);
        working.solved(|| of("Shear of term {}, net, at x = {}"), shear, residual);
        working.solved(|| of("Moment of term {}, net, at x = {}"), moment, residual);
    }

    /// Holds shear and moment of a term, as the answer has them, to those by hand.
    fn held(
        &self,
        working: &mut Working,
        since: usize,
        term: usize,
        (x, side): (Length, Side),
        (shear, moment): (Force, Moment),
    ) {
        let Some(term) = self.terms.get(term) else { return };
        let place = Message::new("{}", [x.into()]);
        let size: Force = term.net.reactions().iter().map(|r| r.force.abs()).sum();
        let lever = self.beam.length();
        working.claim(
            format!("shear of term {} at x = {place}", term.id),
            since,
            shear.quantity(),
            term.net.inside().shear(x, side).si(),
            size.si(),
        );
        working.claim(
            format!("moment of term {} at x = {place}", term.id),
            since,
            moment.quantity(),
            term.net.inside().moment(x, side).si(),
            (size * lever).si(),
        );
    }

    /// The working of the target: for each place, the governing terms of shear and moment.
    #[must_use]
    pub fn working(&self) -> Working {
        let mut working = Working::default();
        let end = self.beam.length();
        let middle = end / 2.0;
        let mut places =
            vec![(self.from, Side::Right), (self.to, Side::Left), (middle, Side::Left)];
        if let Some((extreme, _)) =
            self.inside().largest(Asked::Shear, crate::units::LoadBasis::Net, self.from, self.to)
        {
            places.insert(0, (extreme.at, extreme.side));
        }
        places.dedup();
        for (x, side) in places {
            let mut terms = vec![self.inside().shear(x, side).term, self.inside().moment(x).term];
            terms.dedup();
            for term in terms {
                let since = working.items.len();
                let Some(by_hand) = self.record_at(&mut working, term, x, side) else {
                    working.items.truncate(since);
                    self.residual_at(&mut working, term, x, side);
                    continue;
                };
                self.held(&mut working, since, term, (x, side), by_hand);
            }
        }
        working
    }
}
