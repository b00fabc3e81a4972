//! Reading JSON whose text is damaged or cut off: as much of its start as makes sense.
//!
//! Only what a strict reader refused comes here. Whatever is open where the text breaks is closed after the last value that
//! is complete, so a film that was half written is a film with fewer shots. A comma that is missing or too many, as hands
//! leave them, stops nothing.

use serde_json::{Map, Number, Value};

/// The deepest that lists and objects may stand in each other: as deep as the strict reader goes.
pub(super) const DEEPEST: usize = 127;

/// What could be read of a damaged text.
#[derive(Debug, PartialEq)]
pub(super) struct Salvaged {
    /// The value so far.
    pub(super) value: Value,
    /// Where the text broke, if it did before the value's end; otherwise where its first fault is, or more after its end.
    pub(super) broke_at: Place,
    /// Whether the value was read to its end.
    pub(super) complete: bool,
}

/// A place in a text, both counted from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Place {
    pub(super) line: usize,
    pub(super) column: usize,
}

/// Why nothing can be read of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Hopeless {
    /// It does not start as an object or a list.
    NotJson,
    /// Lists and objects stand deeper in each other than any file's.
    TooDeep,
}

/// Reads as much of the text's start as makes sense.
pub(super) fn salvage(text: &str) -> Result<Salvaged, Hopeless> {
    let mut reader = Reader { text, at: 0, depth: 0, stopped: None, fault: None };
    reader.skip_space();
    if !matches!(reader.peek(), Some(b'{' | b'[')) {
        return Err(Hopeless::NotJson);
    }
    let value = reader.value().ok_or(Hopeless::NotJson)?;
    match reader.stopped {
        Some(Stop::TooDeep) => Err(Hopeless::TooDeep),
        Some(Stop::Broken) => Ok(Salvaged { value, broke_at: reader.place(reader.at), complete: false }),
        None => {
            reader.skip_space();
            let at = reader.fault.unwrap_or(reader.at);
            Ok(Salvaged { value, broke_at: reader.place(at), complete: true })
        }
    }
}

#[derive(Debug, Clone, Copy)]
enum Stop {
    Broken,
    TooDeep,
}

struct Reader<'text> {
    text: &'text str,
    at: usize,
    depth: usize,
    /// Once set, nothing more is read, and all that is open ends.
    stopped: Option<Stop>,
    /// Where the first fault is that stopped nothing.
    fault: Option<usize>,
}

impl Reader<'_> {
    fn peek(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn skip_space(&mut self) {
        while matches!(self.peek(), Some(b' ' | b'\t' | b'\n' | b'\r')) {
            self.at += 1;
        }
    }

    /// Passes over one sign.
    fn takes(&mut self, sign: u8) -> bool {
        self.skip_space();
        let is_there = self.peek() == Some(sign);
        self.at += usize::from(is_there);
        is_there
    }

    fn breaks<Nothing>(&mut self) -> Option<Nothing> {
        self.stopped.get_or_insert(Stop::Broken);
        None
    }

    /// The next value, as much of it as there is; none if there is none.
    fn value(&mut self) -> Option<Value> {
        self.skip_space();
        match self.peek() {
            Some(open @ (b'{' | b'[')) => {
                if self.depth == DEEPEST {
                    self.stopped = Some(Stop::TooDeep);
                    return None;
                }
                self.at += 1;
                self.depth += 1;
                let value = if open == b'{' { self.fields() } else { self.list() };
                self.depth -= 1;
                Some(value)
            }
            Some(b'"') => self.text().map(Value::String),
            Some(b'-' | b'0'..=b'9') => self.number(),
            Some(_) => self.word(),
            None => self.breaks(),
        }
    }

    fn fields(&mut self) -> Value {
        let mut fields = Map::new();
        if self.takes(b'}') {
            return Value::Object(fields);
        }
        loop {
            self.skip_space();
            let name = if self.peek() == Some(b'"') { self.text() } else { self.breaks() };
            let Some(name) = name.filter(|_| self.takes(b':')) else { break };
            if let Some(value) = self.value() {
                fields.insert(name, value);
            }
            if self.stopped.is_some() || self.ends(b'}') {
                return Value::Object(fields);
            }
        }
        self.stopped.get_or_insert(Stop::Broken);
        Value::Object(fields)
    }

    fn list(&mut self) -> Value {
        let mut list = Vec::new();
        if self.takes(b']') {
            return Value::Array(list);
        }
        loop {
            list.extend(self.value());
            if self.stopped.is_some() || self.ends(b']') {
                return Value::Array(list);
            }
        }
    }

    /// Whether a list or an object ends here, after one of its values; passes over what separates it from the next.
    fn ends(&mut self, close: u8) -> bool {
        let comma = self.takes(b',');
        let before = self.at;
        let closed = self.takes(close);
        // A comma goes with a value after it, and no comma with the end; anything else is a slip of the hand.
        if comma == closed {
            self.fault.get_or_insert(before);
        }
        closed
    }

    /// A text up to its closing quote. What stands in it against the rules, such as a line's end, is kept or marked: it is
    /// somebody's words.
    fn text(&mut self) -> Option<String> {
        let start = self.at;
        self.at += 1;
        loop {
            match self.peek() {
                Some(b'"') => break,
                Some(b'\\') => self.at += 2,
                Some(_) => self.at += 1,
                None => {
                    self.at = start;
                    return self.breaks();
                }
            }
        }
        self.at += 1;
        let token = self.text.get(start..self.at)?;
        let text = serde_json::from_str(token);
        if text.is_err() {
            self.fault.get_or_insert(start);
        }
        Some(text.unwrap_or_else(|_unruly| unruly_text(token)))
    }

    fn number(&mut self) -> Option<Value> {
        let start = self.at;
        while matches!(self.peek(), Some(b'+' | b'-' | b'.' | b'e' | b'E' | b'0'..=b'9')) {
            self.at += 1;
        }
        let token = self.text.get(start..self.at)?;
        // At the very end nobody knows whether another digit followed.
        if self.peek().is_none() {
            self.at = start;
            return self.breaks();
        }
        if let Ok(number) = serde_json::from_str::<Number>(token) {
            return Some(Value::Number(number));
        }
        // No number that there is, such as 1e999: whoever wants one there says so, and the rest is read.
        self.fault.get_or_insert(start);
        Some(Value::String(token.to_owned()))
    }

    fn word(&mut self) -> Option<Value> {
        let rest = self.text.get(self.at..)?;
        let words = [("true", Value::Bool(true)), ("false", Value::Bool(false)), ("null", Value::Null)];
        let Some((word, value)) = words.into_iter().find(|(word, _)| rest.starts_with(word)) else {
            return self.breaks();
        };
        self.at += word.len();
        Some(value)
    }

    /// The place in lines and letters.
    fn place(&self, at: usize) -> Place {
        let before = self.text.get(..at).unwrap_or(self.text);
        let line_start = before.rfind('\n').map_or(0, |end| end + 1);
        let column = before.get(line_start..).map_or(0, |line| line.chars().count());
        Place { line: before.matches('\n').count() + 1, column: column + 1 }
    }
}

/// A text with what is against the rules in it, without its quotes.
fn unruly_text(token: &str) -> String {
    let inner = token.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).unwrap_or(token);
    let mut letters = inner.chars();
    let mut text = String::with_capacity(inner.len());
    while let Some(letter) = letters.next() {
        text.push(match letter {
            '\\' => match letters.next() {
                Some('n') => '\n',
                Some('t') => '\t',
                Some('r') => '\r',
                Some(plain @ ('"' | '\\' | '/')) => plain,
                Some(_) | None => char::REPLACEMENT_CHARACTER,
            },
            _ => letter,
        });
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use serde_json::json;

    fn salvaged(text: &str) -> Value {
        salvage(text).expect("something").value
    }

    #[test]
    fn what_is_open_is_closed_after_the_last_complete_value() {
        assert_eq!(salvaged(r#"{"a": [1, {"b": "c", "d"#), json!({"a": [1, {"b": "c"}]}));
        assert_eq!(salvaged(r#"{"a": 1, "b": 23"#), json!({"a": 1}));
        assert_eq!(salvaged(r#"{"a": [1, 2, tru"#), json!({"a": [1, 2]}));
        assert_eq!(salvaged(r#"{"a": "cut o"#), json!({}));
    }

    #[test]
    fn the_place_where_it_breaks_is_told() {
        let broken = salvage("{\n  \"a\": 1,\n  \"b\": ?\n}").expect("something");
        assert_eq!(broken.broke_at, Place { line: 3, column: 8 });
        assert!(!broken.complete);
        let more = salvage("{\"a\": 1} {").expect("something");
        assert!(more.complete, "{more:?}");
    }

    #[test]
    fn texts_and_numbers_against_the_rules_do_not_stop_the_reading() {
        assert_eq!(
            salvaged("{\"a\": \"one\ntwo\\x\", \"b\": 1e999, \"c\": 3}"),
            json!({"a": "one\ntwo\u{fffd}", "b": "1e999", "c": 3})
        );
    }

    #[test]
    fn a_comma_too_few_or_too_many_stops_nothing() {
        let slips = salvage("{\"a\": [1, 2 3,],\n \"b\": 4 \"c\": 5,}").expect("something");
        assert_eq!(slips.value, json!({"a": [1, 2, 3], "b": 4, "c": 5}));
        assert!(slips.complete, "{slips:?}");
        assert_eq!(slips.broke_at, Place { line: 1, column: 13 });
    }

    #[test]
    fn what_is_too_deep_is_refused() {
        let text = "[".repeat(100_000);
        assert_eq!(salvage(&text), Err(Hopeless::TooDeep));
        assert_eq!(salvage("film"), Err(Hopeless::NotJson));
        assert_eq!(salvage(""), Err(Hopeless::NotJson));
    }

    proptest! {
        #[test]
        fn any_text_gives_an_answer(text in "\\PC{0,200}") {
            let _answer = salvage(&format!("{{{text}"));
            let _answer = salvage(&text);
        }

        #[test]
        fn any_text_of_signs_gives_an_answer(text in r#"[\[\]{}:,"\\0-9a-f.eE+ü-]{0,200}"#) {
            let _answer = salvage(&format!("{{{text}"));
        }
    }
}
