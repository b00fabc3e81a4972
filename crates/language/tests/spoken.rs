//! A program that speaks another language. What is spoken is settled once in a process, so all of it is one test.

use language::{ClockFace, DecimalMark, Manner, Number, Spoken, Tongue, key, say, text};

#[test]
fn what_is_marked_is_said_in_the_language_that_is_spoken() {
    let (who, far, count) = ("Ana", 1.25, 2);
    let all = || {
        [
            say!("Set-up").to_owned(),
            say!("{who} is {far:.1} m away"),
            say!("{} of {}", count, who),
            say!("{far:>6.2} and {count:02}"),
            say!(in "a lens", "wide").to_owned(),
            say!(in "a lens", "{count} wide"),
            say!("{{{who}}}"),
            text(key!("left")).to_owned(),
            Number(far).to_string(),
        ]
    };
    let english = [
        "Set-up",
        "Ana is 1.2 m away",
        "2 of Ana",
        "  1.25 and 02",
        "wide",
        "2 wide",
        "{Ana}",
        "left",
        "1.25",
    ];
    assert_eq!(all(), english);

    let mut dutch = [
        ("Set-up", "Opstelling"),
        ("{who} is {far} m away", "{far} m verderop staat {who}"),
        ("{0} of {1}", "{1}: {0}"),
        ("a lens\u{4}wide", "wijd"),
        ("a lens\u{4}{count} wide", "{count} wijd"),
        ("wide", "totaal"),
        ("left", "links"),
        ("{{{who}}}", "{{{who}!}}"),
    ];
    dutch.sort_unstable();
    let words = dutch.into_iter().flat_map(|(english, said)| [english.to_owned(), said.to_owned()]).collect();
    language::speak(Spoken::handed_on("nl", words, ',', 12));
    // The first to say so is heard.
    language::speak(Spoken::default());
    let said = ["Opstelling", "1,2 m verderop staat Ana", "Ana: 2", "  1,25 and 02", "wijd", "2 wijd"];
    assert_eq!(all()[..6], said);
    assert_eq!(all()[6..], ["{Ana!}", "links", "1,25"]);
    assert_eq!(language::tongue(), Tongue::Dutch);
    assert_eq!(language::manner(), Manner { mark: DecimalMark::Comma, face: ClockFace::Twelve });
}
