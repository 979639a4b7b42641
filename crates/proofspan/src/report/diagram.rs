//! The pictures, as SVG text: reference against test, load against deflection.

use core::fmt::Write as _;

use crate::beam::Side;
use crate::design::TestDesign;
use crate::equivalent::Effect;
use crate::units::{Kind, Length, Page, Quantity, Row, System, grouped, trimmed};

pub(super) const WIDTH: f64 = 760.0;
pub(super) const HEIGHT: f64 = 260.0;
pub(super) const LEFT: f64 = 70.0;
pub(super) const RIGHT: f64 = 20.0;
pub(super) const TOP: f64 = 18.0;
pub(super) const BOTTOM: f64 = 40.0;

/// Maps values to the picture.
pub(super) struct Axes {
    x: (f64, f64),
    y: (f64, f64),
}

impl Axes {
    pub(super) fn of(points: &[&[(f64, f64)]]) -> Self {
        let all = || points.iter().flat_map(|p| p.iter());
        let range = |pick: fn(&(f64, f64)) -> f64| {
            let low = all().map(pick).fold(0.0_f64, f64::min);
            let high = all().map(pick).fold(0.0_f64, f64::max);
            // rounding below zero is not worth an axis
            let low = if low.abs() < 1e-9 * high.abs() { 0.0 } else { low };
            if high - low > 0.0 { (low, high) } else { (low, low + 1.0) }
        };
        let (x, y) = (range(|p| p.0), range(|p| p.1));
        let step = step(y);
        Self { x, y: ((y.0 / step).floor() * step, (y.1 / step).ceil() * step) }
    }
    pub(super) fn px(&self, x: f64) -> f64 {
        LEFT + (x - self.x.0) / (self.x.1 - self.x.0) * (WIDTH - LEFT - RIGHT)
    }
    pub(super) fn py(&self, y: f64) -> f64 {
        HEIGHT - BOTTOM - (y - self.y.0) / (self.y.1 - self.y.0) * (HEIGHT - TOP - BOTTOM)
    }
    pub(super) fn path(&self, points: &[(f64, f64)]) -> String {
        let mut d = String::new();
        for (i, (x, y)) in points.iter().enumerate() {
            let _ = write!(
                d,
                "{}{:.1} {:.1} ",
                if i == 0 { "M" } else { "L" },
                self.px(*x),
                self.py(*y)
            );
        }
        d
    }
    pub(super) fn frame(&self, svg: &mut String, x_name: &str, y_name: &str) {
        let zero = self.py(0.0);
        let _ = write!(
            svg,
            "<line x1=\"{LEFT}\" y1=\"{zero:.1}\" x2=\"{:.1}\" y2=\"{zero:.1}\" stroke=\"#333\"/>",
            WIDTH - RIGHT
        );
        for x in ticks(self.x) {
            let _ = write!(
                svg,
                "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{}</text>",
                self.px(x),
                HEIGHT - 22.0,
                plain(x)
            );
        }
        for y in ticks(self.y) {
            let _ = write!(
                svg,
                "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"end\">{}</text>",
                LEFT - 6.0,
                self.py(y) + 4.0,
                plain(y)
            );
            let _ = write!(
                svg,
                "<line x1=\"{LEFT}\" y1=\"{0:.1}\" x2=\"{1:.1}\" y2=\"{0:.1}\" stroke=\"#ddd\"/>",
                self.py(y),
                WIDTH - RIGHT
            );
        }
        let _ = write!(
            svg,
            "<text x=\"{:.1}\" y=\"{:.1}\" text-anchor=\"middle\">{x_name}</text>",
            f64::midpoint(LEFT, WIDTH),
            HEIGHT - 5.0
        );
        let _ = write!(svg, "<text x=\"6\" y=\"12\">{y_name}</text>");
    }
}

/// A step of 1, 2 or 5 times a power of ten that divides the range into four to ten parts.
fn step((low, high): (f64, f64)) -> f64 {
    let rough = (high - low) / 5.0;
    let power = 10.0_f64.powf(rough.log10().floor());
    let part = rough / power;
    power
        * if part < 1.5 {
            1.0
        } else if part < 3.5 {
            2.0
        } else if part < 7.5 {
            5.0
        } else {
            10.0
        }
}

/// The multiples of that step inside the range.
fn ticks(range: (f64, f64)) -> impl Iterator<Item = f64> {
    let step = step(range);
    let first = (range.0 / step - 1e-9).ceil();
    (0..=12)
        .map(move |i| (first + f64::from(i)) * step)
        .take_while(move |v| *v <= range.1 + 1e-9 * step)
}

/// A tick without the noise of its last digits.
fn plain(value: f64) -> String {
    trimmed(&grouped(value, 9)).to_owned()
}

pub(super) fn open(height: f64) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {WIDTH} {height}\" role=\"img\" font-family=\"sans-serif\" font-size=\"11\">"
    )
}

fn rows(kind: Kind, system: System) -> (Row, Row) {
    (Kind::Length.usual(system), kind.usual(system))
}

/// Reference and test along the member, net, the region in doubt shaded.
pub(super) fn diagram(design: &TestDesign, effect: Effect, page: &Page) -> String {
    let t = &design.target;
    let kind = if effect == Effect::Shear { Kind::Force } else { Kind::Moment };
    let (xr, yr) = rows(kind, page.system());
    let settled = |si| yr.from_si(page.settled(Quantity::new(kind, si)));
    let length = t.beam.length().si();
    let mut places: Vec<f64> = (0..=240).map(|i| length * f64::from(i) / 240.0).collect();
    places.extend(design.layout.response.breakpoints().map(Length::si));
    places.sort_by(f64::total_cmp);
    let mut test = Vec::new();
    let mut reference = Vec::new();
    for x in places {
        let at = Length::from_si(x);
        for side in [Side::Left, Side::Right] {
            let (j, r) = match effect {
                Effect::Shear => (
                    design.layout.response.inside().shear(at, side).si(),
                    t.inside().shear(at, side).value.0.si(),
                ),
                Effect::Moment => (
                    design.layout.response.inside().moment(at, side).si(),
                    t.inside().moment(at).value.0.si(),
                ),
            };
            test.push((xr.from_si(x), settled(j)));
            reference.push((xr.from_si(x), settled(r)));
        }
    }
    let axes = Axes::of(&[&test, &reference]);
    let mut svg = open(HEIGHT);
    let (a, b) = (axes.px(xr.from_si(t.from.si())), axes.px(xr.from_si(t.to.si())));
    let _ = write!(
        svg,
        "<rect x=\"{a:.1}\" y=\"{TOP}\" width=\"{:.1}\" height=\"{:.1}\" fill=\"#f3e3c8\"/>",
        b - a,
        HEIGHT - TOP - BOTTOM
    );
    axes.frame(
        &mut svg,
        &format!("x, {}; shaded: region in doubt", xr.symbol),
        &format!("{effect}, {}", yr.symbol),
    );
    let _ = write!(
        svg,
        "<path d=\"{}\" fill=\"none\" stroke=\"#1f5fa8\" stroke-width=\"2\" stroke-dasharray=\"6 3\"/>",
        axes.path(&reference)
    );
    let _ = write!(
        svg,
        "<path d=\"{}\" fill=\"none\" stroke=\"#b03a2e\" stroke-width=\"2\"/>",
        axes.path(&test)
    );
    let _ = write!(
        svg,
        "<text x=\"{0}\" y=\"14\" fill=\"#1f5fa8\">dashed: reference</text><text x=\"{1}\" y=\"14\" fill=\"#b03a2e\">solid: test</text>",
        WIDTH - 250.0,
        WIDTH - 110.0
    );
    svg.push_str("</svg>");
    svg
}

/// Force against deflection.
pub(super) fn curve(points: &[(f64, f64)], system: System) -> String {
    let (x, y) = (Kind::Length.small(system), Kind::Force.usual(system));
    let line: Vec<(f64, f64)> =
        points.iter().map(|(f, v)| (x.from_si(*v), y.from_si(*f))).collect();
    let axes = Axes::of(&[&line]);
    let mut svg = open(HEIGHT);
    axes.frame(&mut svg, &format!("deflection, {}", x.symbol), &format!("force, {}", y.symbol));
    let _ = write!(
        svg,
        "<path d=\"{}\" fill=\"none\" stroke=\"#b03a2e\" stroke-width=\"1.5\"/></svg>",
        axes.path(&line)
    );
    svg
}
