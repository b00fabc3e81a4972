//! What files consist of when all their texts are taken away, read more strictly than any program would.

use serde_json::Value;

/// Markup without its texts, and its texts.
#[derive(Debug)]
pub(crate) struct Bones {
    /// Elements with the names of their attributes, as they open and close. Texts are a dot where there is one.
    pub(crate) bones: Vec<String>,
    /// Texts and values of attributes as a browser shows them.
    pub(crate) texts: Vec<String>,
}

/// Reads markup that has nothing but elements, attributes in double quotes, and texts.
///
/// A `<`, `>` or `"` that is not of these is refused, and so is a `&` that does not begin one of the four that the sheets write:
/// such markup is read alike by every parser, of HTML, of SVG within it and of XML.
pub(crate) fn markup(told: &str) -> Result<Bones, String> {
    let mut read = Bones { bones: Vec::new(), texts: Vec::new() };
    let mut rest = told;
    while !rest.is_empty() {
        let Some(tag) = rest.strip_prefix('<') else {
            let (text, after) = rest.split_at(rest.find('<').unwrap_or(rest.len()));
            read.texts.push(shown(text)?);
            if read.bones.last().is_none_or(|last| last != ".") {
                read.bones.push(".".to_owned());
            }
            rest = after;
            continue;
        };
        let (tag, after) = tag.split_once('>').ok_or("a tag does not end")?;
        read.bones.push(bone(tag, &mut read.texts)?);
        rest = after;
    }
    Ok(read)
}

/// A tag with its values taken away, save those by which the sheets are styled.
fn bone(tag: &str, texts: &mut Vec<String>) -> Result<String, String> {
    let is_name = |name: &str| {
        let mut letters = name.trim_start_matches('/').chars();
        letters.next().is_some_and(|first| first.is_ascii_lowercase())
            && letters.all(|letter| letter.is_ascii_alphanumeric() || letter == '-')
    };
    let (name, mut rest) = tag.split_at(tag.find(' ').unwrap_or(tag.len()));
    if !is_name(name) {
        return Err(format!("no element is called {name:?}"));
    }
    let mut bone = name.to_owned();
    while let Some(attribute) = rest.strip_prefix(' ') {
        let end = attribute.find(['=', ' ']).unwrap_or(attribute.len());
        let (name, after) = attribute.split_at(end);
        if !is_name(name) || name.starts_with("on") || matches!(name, "style" | "srcdoc") {
            return Err(format!("no attribute is called {name:?}"));
        }
        bone.push(' ');
        bone.push_str(name);
        rest = after;
        if let Some(quoted) = after.strip_prefix("=\"") {
            let (value, after) = quoted.split_once('"').ok_or("a value does not end")?;
            if matches!(name, "class" | "scope" | "href" | "src") {
                bone.push('=');
                bone.push_str(value);
            }
            texts.push(shown(value)?);
            rest = after;
        }
    }
    if rest.is_empty() { Ok(bone) } else { Err(format!("{rest:?} is in a tag")) }
}

/// A text as it is shown.
fn shown(text: &str) -> Result<String, String> {
    let is_known = |after: &str| ["amp;", "lt;", "gt;", "quot;"].iter().any(|name| after.starts_with(name));
    if text.contains(['<', '>', '"']) || text.split('&').skip(1).any(|after| !is_known(after)) {
        return Err(format!("{text:?} is not escaped"));
    }
    Ok(text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&"))
}

/// The lines of a calendar, unfolded.
fn lines(calendar: &str) -> Vec<String> {
    let unfolded = calendar.replace("\r\n ", "");
    unfolded.split_terminator("\r\n").map(str::to_owned).collect()
}

/// The names of a calendar's lines, where every line is as RFC 5545 has it: at most 75 bytes, with a name that the calendar's
/// writer knows, and without controls.
pub(crate) fn calendar_bones(calendar: &str) -> Result<Vec<String>, String> {
    for line in calendar.split_terminator("\r\n") {
        if line.len() > 75 || line.contains(['\r', '\n']) {
            return Err(format!("{line:?} is not folded"));
        }
    }
    lines(calendar)
        .into_iter()
        .map(|line| {
            let (name, value) = line.split_once(':').ok_or_else(|| format!("{line:?} has no name"))?;
            let is_name = !name.is_empty() && name.chars().all(|letter| letter.is_ascii_uppercase());
            let is_clean = !value.chars().any(|letter| letter.is_control() && letter != '\t');
            if !is_name || !is_clean {
                return Err(format!("{line:?} is no line of a calendar"));
            }
            Ok(if matches!(name, "BEGIN" | "END") { line } else { name.to_owned() })
        })
        .collect()
}

/// The texts of a calendar with what was escaped as it was.
pub(crate) fn calendar_texts(calendar: &str) -> Vec<String> {
    let unescaped = |value: &str| {
        let (mut text, mut letters) = (String::new(), value.chars());
        while let Some(letter) = letters.next() {
            match (letter, letter == '\\') {
                (_, true) => text.extend(letters.next().map(|next| if next == 'n' { '\n' } else { next })),
                (letter, false) => text.push(letter),
            }
        }
        text
    };
    lines(calendar).iter().filter_map(|line| Some(unescaped(line.split_once(':')?.1))).collect()
}

/// JSON with every text that is not a name taken away; numbers stay, as no text may change one.
pub(crate) fn json_bones(told: &str) -> Value {
    fn strip(value: &mut Value) {
        match value {
            Value::String(text) => text.clear(),
            Value::Array(all) => all.iter_mut().for_each(strip),
            Value::Object(fields) => fields.values_mut().for_each(strip),
            Value::Null | Value::Bool(_) | Value::Number(_) => {}
        }
    }
    let mut value: Value = serde_json::from_str(told).unwrap_or_default();
    strip(&mut value);
    value
}
