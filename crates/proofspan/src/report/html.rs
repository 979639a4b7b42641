//! The report as one self-contained HTML file.

use core::fmt::Write as _;

use super::block::Block;
use super::content::content;
use crate::design::TestDesign;
use crate::error::Error;
use crate::formula::Line;
use crate::judge::Judgement;
use crate::source::html as escape;
use crate::units::Kind;

const STYLE: &str = "body{font:15px/1.5 sans-serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#222}\
h1{font-size:1.6rem}h2{margin-top:2rem;border-bottom:1px solid #ccc}h3,h4{margin:1rem 0 .3rem}\
table{border-collapse:collapse;margin:.8rem 0;width:100%}\
th,td{border:1px solid #ccc;padding:.25rem .5rem;text-align:left;vertical-align:top;font-size:.85rem;overflow-wrap:break-word;hyphens:none}th{background:#f2f2f2}\
table.wide th,table.wide td{font-size:.75rem;padding:.2rem .3rem}\
.caution{border-left:6px solid #d68910;background:#fef5e7;padding:.5rem 1rem}.stop{border-left:6px solid #c0392b;background:#fdedec;color:#922b21;padding:.5rem 1rem;margin:.4rem 0}\
.state{font-size:1.1rem;border:2px solid #444;padding:.5rem 1rem;margin:1rem 0}figure{margin:1rem 0}figcaption{font-size:.85rem;color:#555}\
.step{margin:.35rem 0 .35rem 1rem;font-size:.85rem}.step code{display:block;overflow-wrap:break-word}.step i{color:#666}\
.q{white-space:nowrap}.prints td{font-size:.8rem}.prints code{font-size:.72rem}.sign td{height:3.2rem}.sign td:first-child{width:20%}\
@page{margin:16mm 14mm 20mm}\
@media print{.sheet{break-before:page}body{font-size:10.5pt;line-height:1.4;max-width:none;margin:0;padding:0}h1{font-size:16pt}h2{font-size:13pt;margin-top:1.2rem}\
h1,h2,h3,h4{break-after:avoid}thead{display:table-header-group}tr,figure,.caution,.stop,.state,.step{break-inside:avoid}\
table.sign,table.prints{break-inside:avoid}p{orphans:3;widows:3}}";

/// The foot of every printed page: title, the beginning of the fingerprint, page number.
fn foot(title: &str, print: &str) -> String {
    let head: String = title.chars().take(70).collect();
    let print: String = print.chars().take(12).collect();
    format!(
        "@page{{@bottom-left{{content:\"{}\";font:8pt sans-serif;color:#444}}@bottom-right{{content:\"design {print}, page \" counter(page) \" of \" counter(pages);font:8pt sans-serif;color:#444}}}}",
        css(&head)
    )
}

/// Text as it may stand in a string of a style sheet, whatever is in it.
fn css(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if c.is_ascii_alphanumeric() || c == ' ' {
            out.push(c);
        } else {
            let _ = write!(out, "\\{:06x} ", u32::from(c));
        }
    }
    out
}

/// A cell. A value stays with its unit; a long name of a field may go on in the next line at a joint,
/// before another letter, never inside a word or a number.
fn cell(text: &str) -> String {
    let mut out = String::new();
    for (i, line) in text.split('\n').enumerate() {
        out.push_str(if i > 0 { "<br>" } else { "" });
        let mut words = line.split(' ').peekable();
        let mut first = true;
        while let Some(word) = words.next() {
            out.push_str(if first { "" } else { " " });
            first = false;
            let number = word.ends_with(|c: char| c.is_ascii_digit());
            match words.next_if(|next| number && is_unit(next)) {
                Some(unit) => {
                    let (word, unit) = (escape(word), escape(unit));
                    let _ = write!(out, "<span class=\"q\">{word} {unit}</span>");
                }
                None => jointed(word, &mut out),
            }
        }
    }
    out
}

/// A word, with the places at which a long one may be broken.
fn jointed(word: &str, out: &mut String) {
    if word.chars().count() <= LONG {
        out.push_str(&escape(word));
        return;
    }
    let mut from = 0;
    for (i, c) in word.char_indices().filter(|(_, c)| "._/]-·".contains(*c)) {
        let to = i + c.len_utf8();
        let goes_on = word.get(to..).and_then(|rest| rest.chars().next());
        if i > from + 2 && goes_on.is_some_and(|c| c.is_alphabetic() || c == '.') {
            out.push_str(&escape(word.get(from..to).unwrap_or_default()));
            out.push_str("<wbr>");
            from = to;
        }
    }
    out.push_str(&escape(word.get(from..).unwrap_or_default()));
}

/// Whether a text that stands behind a number begins with a unit, so that the two stay together.
fn is_unit(text: &str) -> bool {
    let word = text.trim_end_matches([';', ',', ':', ')', '.']);
    word == "%" || word == "min" || Kind::ALL.iter().any(|kind| kind.unit(word).is_some())
}

/// A word of more letters may go on in the next line where it has a joint.
const LONG: usize = 14;

/// A table of more columns is set smaller.
const WIDE: usize = 5;

/// The rows of a table under a heading that is repeated on every page.
fn table(out: &mut String, class: &str, head: &[&str], rows: &[Vec<String>]) {
    let _ = write!(out, "<table{class}><thead><tr>");
    head.iter().for_each(|h| {
        let _ = write!(out, "<th>{}</th>", escape(h));
    });
    out.push_str("</tr></thead><tbody>");
    for row in rows {
        out.push_str("<tr>");
        row.iter().for_each(|c| {
            let _ = write!(out, "<td>{}</td>", cell(c));
        });
        out.push_str("</tr>");
    }
    out.push_str("</tbody></table>\n");
}

/// The report of a design and, where there is one, of its judgement.
///
/// # Errors
/// `report.other-test` for a judgement of another test; none else that the design itself did not have.
pub fn html(design: &TestDesign, judgement: Option<&Judgement>) -> Result<String, Error> {
    let title = escape(&design.spec.title);
    let mut out = format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\"><title>{title}</title><style>{STYLE}{}</style></head><body>\n",
        foot(&design.spec.title, &design.spec.fingerprint())
    );
    for block in content(design, judgement)? {
        let _ = match block {
            Block::Heading(n, text) => writeln!(out, "<h{n}>{}</h{n}>", escape(&text)),
            Block::Text(text) => writeln!(out, "<p>{}</p>", escape(&text)),
            Block::Caution(text) => writeln!(out, "<p class=\"caution\">{}</p>", escape(&text)),
            Block::Stop(text) => writeln!(out, "<p class=\"stop\">{}</p>", escape(&text)),
            Block::State(state, text) => {
                writeln!(out, "<p class=\"state\"><b>{state}</b>: {}</p>", escape(&text))
            }
            Block::Sheet => writeln!(out, "<div class=\"sheet\"></div>"),
            Block::Picture(title, svg) => {
                writeln!(out, "<figure>{svg}<figcaption>{}</figcaption></figure>", escape(&title))
            }
            Block::Table(head, rows) => {
                let class = if head.len() > WIDE { " class=\"wide\"" } else { "" };
                table(&mut out, class, &head, &rows);
                Ok(())
            }
            Block::Fingerprints(prints) => {
                out.push_str("<table class=\"prints\"><tbody>");
                for (name, print) in &prints {
                    let (name, print) = (escape(name), escape(print));
                    let _ = write!(out, "<tr><td>{name}</td><td><code>{print}</code></td></tr>");
                }
                writeln!(out, "</tbody></table>")
            }
            Block::Signatures(roles) => {
                let rows: Vec<Vec<String>> = roles
                    .iter()
                    .map(|r| vec![(*r).to_owned(), String::new(), String::new(), String::new()])
                    .collect();
                let head = ["role", "name", "date", "signature"];
                table(&mut out, " class=\"sign\"", &head, &rows);
                Ok(())
            }
            Block::Working(lines) => {
                for line in &lines {
                    let _ = match line {
                        Line::About(heading) => writeln!(out, "<h4>{}</h4>", escape(heading)),
                        Line::Step(what, line, source) => writeln!(
                            out,
                            "<div class=\"step\">{}<code>{}</code><i>{}</i></div>",
                            escape(what),
                            escape(line),
                            escape(source)
                        ),
                    };
                }
                Ok(())
            }
        };
    }
    out.push_str("</body></html>\n");
    Ok(out)
}
