//! The macro that marks what people read: see `language::say`.

mod placeholders;

use proc_macro::TokenStream;
use proc_macro2::TokenStream as Tokens;
use quote::{ToTokens as _, quote};
use syn::parse::{Parse, ParseStream};
use syn::{Expr, Ident, LitInt, LitStr, Token, parse_macro_input};

use crate::placeholders::{Name, Piece, key_of, pieces};

/// What stands between the macro's brackets: what the text is about, where other languages need to know; the English text;
/// and the values that it does not capture by name.
struct Said {
    about: Option<LitStr>,
    english: LitStr,
    values: Vec<(Option<Ident>, Expr)>,
}

impl Parse for Said {
    fn parse(input: ParseStream<'_>) -> syn::Result<Self> {
        let about = if input.peek(Token![in]) {
            input.parse::<Token![in]>()?;
            let about = input.parse()?;
            input.parse::<Token![,]>()?;
            Some(about)
        } else {
            None
        };
        let english = input.parse()?;
        let mut values = Vec::new();
        while input.parse::<Option<Token![,]>>()?.is_some() && !input.is_empty() {
            let is_named = input.peek(Ident) && input.peek2(Token![=]) && !input.peek2(Token![==]);
            let name = if is_named {
                let name = input.parse()?;
                input.parse::<Token![=]>()?;
                Some(name)
            } else {
                None
            };
            values.push((name, input.parse()?));
        }
        Ok(Self { about, english, values })
    }
}

/// See `language::say`.
#[proc_macro]
pub fn say(input: TokenStream) -> TokenStream {
    let said = parse_macro_input!(input as Said);
    said.tokens().unwrap_or_else(|error| error.to_compile_error()).into()
}

impl Said {
    fn tokens(&self) -> syn::Result<Tokens> {
        let english = self.english.value();
        let about = self.about.as_ref().map(LitStr::value);
        let refused = |problem: &str| self.refused(problem);
        let key = key_of(about.as_deref(), &english).map_err(refused)?;
        let mut values: Vec<(Name, String, Tokens)> = Vec::new();
        for piece in pieces(&english).map_err(refused)? {
            let Piece::Value { name, spec } = piece else { continue };
            match values.iter().find(|(known, ..)| *known == name) {
                Some((_, known, _)) if known != spec => {
                    return Err(refused("one value is written in two ways"));
                }
                Some(_) => {}
                None => values.push((name.clone(), spec.to_owned(), self.value(&name, spec)?)),
            }
        }
        let numbered = values.iter().filter(|(name, ..)| matches!(name, Name::Number(_))).count();
        if numbered != self.values.iter().filter(|(name, _)| name.is_none()).count() {
            return Err(refused("the text does not have every value"));
        }
        // Without what it is about the key is the text as it is read.
        let plain = key_of(None, &english).map_err(refused)?;
        let values: Vec<_> = values.iter().map(|(_, _, value)| value).collect();
        Ok(match (&self.about, values.is_empty()) {
            (None, true) => quote!(*::language::said(&#key)),
            (Some(_), true) => quote!(*::language::said_about(#key, &#plain)),
            (None, false) => quote!(::language::fill(&#key, &[#(&(#values)),*])),
            (Some(_), false) => quote!(::language::fill_about(#key, &#plain, &[#(&(#values)),*])),
        })
    }

    /// The value of that name, as its place in the text asks for it.
    fn value(&self, name: &Name, spec: &str) -> syn::Result<Tokens> {
        let value = match name {
            Name::Number(at) => {
                let mut counted = self.values.iter().filter(|(name, _)| name.is_none());
                let (_, value) = counted.nth(*at).ok_or_else(|| self.refused("a value is missing"))?;
                quote!(#value)
            }
            Name::Word(word) => {
                let given =
                    self.values.iter().find(|(name, _)| name.as_ref().is_some_and(|name| name == word));
                let captured = Ident::new(word, self.english.span());
                given.map_or_else(|| quote!(#captured), |(_, value)| quote!(#value))
            }
        };
        if spec.is_empty() {
            return Ok(quote!(#value));
        }
        if let Some(digits) = spec.strip_prefix('.') {
            let digits = match digits.strip_suffix('$') {
                Some(name) => Ident::new(name, self.english.span()).to_token_stream(),
                None => syn::parse_str::<LitInt>(digits)?.to_token_stream(),
            };
            return Ok(quote!(::language::Rounded(&(#value), #digits)));
        }
        let template = LitStr::new(&format!("{{:{spec}}}"), self.english.span());
        let written = quote!(::core::format_args!(#template, #value));
        Ok(if spec.contains('.') { quote!(::language::Number(#written)) } else { written })
    }

    fn refused(&self, problem: &str) -> syn::Error {
        syn::Error::new(self.english.span(), problem)
    }
}
