//! Force and movements along the test, with windows, stages and faults marked.

use core::fmt::Write as _;

use super::diagram::{Axes, BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, open};
use crate::judge::Judgement;
use crate::readings::{Fault, FaultEffect, Moments, Role};
use crate::source::html as escape;
use crate::units::{Kind, Page, Row};

const COLOURS: [&str; 6] = ["#b03a2e", "#1f5fa8", "#1e8449", "#7d3c98", "#b9770e", "#117a65"];

/// What is drawn along one time: the stages of a log together, or one of them.
pub(super) struct Along<'a> {
    stages: Vec<&'a Judgement>,
    begins: Vec<(&'a str, f64)>,
}

impl<'a> Along<'a> {
    /// One stage, its faults numbered as in its table.
    pub(super) fn one(j: &'a Judgement) -> Self {
        Self { stages: vec![j], begins: Vec::new() }
    }

    /// The whole log of a test in several stages; nothing where there is one.
    pub(super) fn whole(j: &'a Judgement) -> Option<Self> {
        let later = j.later.iter().filter_map(|(_, judged)| judged.as_ref());
        let stages: Vec<&Judgement> = core::iter::once(j).chain(later).collect();
        let begins = j.evidence.layout.stages.iter();
        let begins = begins.map(|s| (s.name.as_str(), s.from.value.si())).collect();
        (stages.len() > 1).then_some(Self { stages, begins })
    }

    /// The channels of these roles with all their points: seconds, SI.
    fn channels(&self, roles: &[Role]) -> Vec<(&'a str, Vec<(f64, f64)>)> {
        let mut own: Vec<(&str, Vec<(f64, f64)>)> = Vec::new();
        let all = self.stages.iter().flat_map(|j| &j.evidence.histories);
        for h in all.filter(|h| roles.contains(&h.role) && !h.points.is_empty()) {
            match own.iter_mut().find(|o| o.0 == h.channel) {
                Some(known) => known.1.extend(&h.points),
                None => own.push((&h.channel, h.points.clone())),
            }
        }
        own
    }

    /// One picture for each kind of channel that the log has: title and SVG.
    pub(super) fn pictures(&self, page: &Page) -> Vec<(String, String)> {
        let system = page.system();
        let movements: &[Role] = &[Role::Deflection, Role::Settlement, Role::Level];
        let groups = [
            ("force", &[Role::Force] as &[Role], Kind::Force.usual(system)),
            ("movement since zero", movements, Kind::Length.small(system)),
            ("temperature", &[Role::Temperature], Kind::Temperature.usual(system)),
        ];
        let what = if self.stages.len() > 1 { "all stages" } else { "as read" };
        let drawn = groups.into_iter().filter_map(|(name, roles, row)| {
            let own = self.channels(roles);
            let title = format!("Along the test, {what}: {name}; shaded: windows; bars: faults (red) and remarks (grey), with their number in the table");
            (!own.is_empty()).then(|| (title, self.picture(name, &own, row, page)))
        });
        drawn.collect()
    }

    fn picture(
        &self,
        name: &str,
        own: &[(&str, Vec<(f64, f64)>)],
        row: Row,
        page: &Page,
    ) -> String {
        let time = Kind::Duration.usual(page.system());
        let shown = |p: &Vec<(f64, f64)>| -> Vec<(f64, f64)> {
            p.iter().map(|(t, v)| (time.from_si(*t), row.from_si(*v))).collect()
        };
        let lines: Vec<Vec<(f64, f64)>> = own.iter().map(|o| shown(&o.1)).collect();
        let all: Vec<&[(f64, f64)]> = lines.iter().map(Vec::as_slice).collect();
        let axes = Axes::of(&all);
        let mut svg = open(HEIGHT);
        for j in &self.stages {
            windows(&mut svg, &j.evidence.layout.moments, &axes, time);
        }
        let x_name = format!("time since the start of the log, {}", time.symbol);
        axes.frame(&mut svg, &x_name, &format!("{name}, {}", row.symbol));
        for (stage, from) in &self.begins {
            let x = axes.px(time.from_si(*from));
            let _ = write!(
                svg,
                "<line x1=\"{x:.1}\" y1=\"{TOP}\" x2=\"{x:.1}\" y2=\"{:.1}\" stroke=\"#333\" stroke-dasharray=\"4 3\"/><text x=\"{:.1}\" y=\"{:.1}\">stage {}</text>",
                HEIGHT - BOTTOM,
                x + 3.0,
                TOP + 34.0,
                escape(stage)
            );
        }
        let mut at = LEFT + 120.0;
        for (i, (line, (channel, _))) in lines.iter().zip(own).enumerate() {
            let colour = COLOURS.get(i % COLOURS.len()).copied().unwrap_or("#333");
            let channel: String = channel.chars().take(24).collect();
            let _ = write!(
                svg,
                "<path d=\"{}\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"1.2\"/><text x=\"{at:.1}\" y=\"12\" fill=\"{colour}\">{}</text>",
                axes.path(line),
                escape(&channel)
            );
            at += channel.chars().map(|_| 6.5).sum::<f64>() + 14.0;
        }
        for j in &self.stages {
            faults(&mut svg, own, &j.faults, &axes, time);
        }
        svg.push_str("</svg>");
        svg
    }
}

/// The windows in which medians were taken, shaded, each with its name.
fn windows(svg: &mut String, m: &Moments, axes: &Axes, time: Row) {
    let residual = m.residual.as_ref().map(|w| ("residual", w));
    for (what, w) in [("zero", &m.zero), ("full load", &m.peak)].into_iter().chain(residual) {
        let at = |t: f64| axes.px(time.from_si(t)).clamp(LEFT, WIDTH - RIGHT);
        let (a, b) = (at(w.from.value.si()), at(w.to.value.si()));
        let (x, anchor) = match () {
            () if a < LEFT + 30.0 => (a + 2.0, "start"),
            () if b > WIDTH - RIGHT - 30.0 => (b, "end"),
            () => (f64::midpoint(a, b), "middle"),
        };
        let _ = write!(
            svg,
            "<rect x=\"{a:.1}\" y=\"{TOP}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"#cfe3f5\"/><text x=\"{x:.1}\" y=\"{:.1}\" text-anchor=\"{anchor}\" fill=\"#1f5fa8\">{what}</text>",
            (b - a).max(2.0),
            HEIGHT - TOP - BOTTOM,
            HEIGHT - BOTTOM + 9.0 - 14.0,
        );
    }
}

/// A bar where a channel of the picture has a fault.
fn faults(
    svg: &mut String,
    own: &[(&str, Vec<(f64, f64)>)],
    faults: &[Fault],
    axes: &Axes,
    time: Row,
) {
    for (i, fault) in faults.iter().enumerate() {
        let here = |id: &str| own.iter().any(|o| o.0 == id);
        if !here(&fault.channel) && !fault.with.as_deref().is_some_and(here) {
            continue;
        }
        let at = |t: f64| axes.px(time.from_si(t)).clamp(LEFT, WIDTH - RIGHT);
        let (a, b) = (at(fault.from.si()), at(fault.to.si()));
        let colour = if fault.effect == FaultEffect::Remark { "#888" } else { "#c0392b" };
        let _ = write!(
            svg,
            "<rect class=\"fault\" x=\"{a:.1}\" y=\"{TOP}\" width=\"{:.1}\" height=\"5\" fill=\"{colour}\" fill-opacity=\"0.6\"/><text x=\"{a:.1}\" y=\"{:.1}\" fill=\"{colour}\">{}</text>",
            (b - a).max(3.0),
            TOP + 15.0,
            i + 1
        );
    }
}
