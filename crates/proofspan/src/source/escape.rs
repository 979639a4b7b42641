//! What a document says, inside text that has a markup of its own.

/// Text inside HTML, in an attribute too.
#[must_use]
pub fn html(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            _ => out.push(c),
        }
    }
    out
}

/// Text inside a line of Markdown: one line, nothing in it is markup, in a cell of a table too.
#[must_use]
pub fn markdown(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let line = text.split(['\n', '\r']).map(str::trim).filter(|l| !l.is_empty());
    let line = line.collect::<Vec<_>>().join(" ");
    let word = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
    let mut before = None;
    let mut rest = line.chars().peekable();
    // a number with a point or bracket behind it opens a list
    let mut list = line.starts_with(|c: char| c.is_ascii_digit());
    while let Some(c) = rest.next() {
        let marks = match c {
            '\\' | '`' | '*' | '[' | ']' | '<' | '|' | '&' | '~' | '!' => true,
            '_' => !(word(before) && word(rest.peek().copied())),
            '#' | '>' | '-' | '+' | '=' => before.is_none(),
            '.' | ')' => list && rest.peek().is_none_or(|c| *c == ' '),
            _ => false,
        };
        list &= c.is_ascii_digit();
        if marks {
            out.push('\\');
        }
        out.push(c);
        before = Some(c);
    }
    out
}

/// Text as code inside a line of Markdown, between more back quotes than stand in it.
#[must_use]
pub fn code(text: &str) -> String {
    let text = text.replace(['\n', '\r'], " ");
    let (mut run, mut longest) = (0, 0);
    for c in text.chars() {
        run = if c == '`' { run + 1 } else { 0 };
        longest = longest.max(run);
    }
    let fence = "`".repeat(longest + 1);
    let pad = if longest > 0 { " " } else { "" };
    format!("{fence}{pad}{text}{pad}{fence}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hostile_text_is_only_text() {
        assert_eq!(html("<b a='1'>&\""), "&lt;b a=&#39;1&#39;&gt;&amp;&quot;");
        assert_eq!(
            markdown("a | b\n# c `d` *e* [f](g) <i>"),
            "a \\| b # c \\`d\\` \\*e\\* \\[f\\](g) \\<i>"
        );
        assert_eq!(markdown("# one"), "\\# one");
        assert_eq!(markdown("12. one 3.5"), "12\\. one 3.5");
        assert_eq!(markdown("3.5 kN, self_weight, _x_"), "3.5 kN, self_weight, \\_x\\_");
        assert_eq!(code("a `b` ``c``"), "``` a `b` ``c`` ```");
        assert_eq!(code("V = w"), "`V = w`");
    }
}
