//! What was read, every correction, and the deflection that is judged: to be redone by hand.

use super::block::Block;
use super::cell::{DIGITS, NONE};
use crate::judge::Judgement;
use crate::units::{Kind, Length, Page, Quantity};

/// One table: of every gauge what the channel gave, each correction with its effect at peak and
/// residual, and their sum.
pub(super) fn corrections(out: &mut Vec<Block>, j: &Judgement, page: &Page) {
    let small = |l: Option<Length>| l.map_or_else(|| NONE.to_owned(), |l| page.small(l));
    let value = |q: Option<Quantity>| match q {
        None => NONE.to_owned(),
        Some(q) if q.kind == Kind::Length => page.small(Length::from_si(q.si)),
        Some(q) => page.value(q, DIGITS),
    };
    let with_u = |l: Option<Length>, u: Option<Length>| match (l, u) {
        (Some(l), Some(u)) if u > Length::ZERO => {
            format!("{} (u {})", page.small(l), page.small(u))
        }
        _ => small(l),
    };
    let mut rows = Vec::new();
    for d in &j.deflections {
        let chain = &d.chain;
        if chain.corrections.is_empty() {
            continue;
        }
        let line = |step: &str, max, rest, source: &str| {
            let none = NONE.to_owned();
            let (max, rest) = (small(Some(max)), small(rest));
            vec![d.gauge.clone(), step.to_owned(), none.clone(), none, max, rest, source.to_owned()]
        };
        rows.push(line("as read", chain.as_read.0, chain.as_read.1, "median in the window"));
        for c in &chain.corrections {
            rows.push(vec![
                d.gauge.clone(),
                c.what.word().to_owned(),
                value(Some(c.value)),
                value(c.u.filter(|u| u.si > 0.0)),
                with_u(Some(c.at_peak), c.u_at_peak),
                with_u(c.at_residual, c.u_at_residual),
                c.source.clone().on(page).to_string(),
            ]);
        }
        rows.push(line("corrected", d.d_max, d.d_r, "the sum"));
    }
    if rows.is_empty() {
        return;
    }
    out.push(Block::Text(
        "Corrections: what the channel gave and the effects below it add up to the deflection that is judged."
            .to_owned(),
    ));
    let heads = vec!["gauge", "step", "value", "u of it", "at peak", "at the residual", "from"];
    out.push(Block::Table(heads, rows));
}
