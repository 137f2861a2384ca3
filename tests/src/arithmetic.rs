//! Reads the arithmetic that a step of the workings states, and works it out with exact fractions.
//!
//! Written apart from the service, so that a wrong sum there is not repeated here.

use num_bigint::BigInt;
use num_rational::BigRational;

/// What a sum comes to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// A number.
    Number(BigRational),
    /// The outcome of a comparison.
    Truth(bool),
}

/// A sum that was read: its outcome, and its numbers and truth values as they were written, from left to right.
#[derive(Debug)]
pub struct Sum {
    /// What it comes to.
    pub outcome: Outcome,
    /// Its numbers and truth values in the order of writing.
    pub literals: Vec<String>,
}

#[derive(Clone, Debug, PartialEq)]
enum Token {
    Number(String),
    Truth(bool),
    Word(&'static str),
    Sign(char),
}

/// The number that `text` writes: digits, with an optional sign and decimals.
pub fn number(text: &str) -> Result<BigRational, String> {
    let size = text.strip_prefix('-').unwrap_or(text);
    let (whole, decimals) = size.split_once('.').unwrap_or((size, ""));
    let written = !whole.is_empty()
        && whole.bytes().chain(decimals.bytes()).all(|byte| byte.is_ascii_digit())
        && (whole == "0" || !whole.starts_with('0'))
        && !size.ends_with('.');
    if !written {
        return Err(format!("`{text}` is not a number"));
    }
    let digits: BigInt =
        format!("{whole}{decimals}").parse().map_err(|error| format!("`{text}` is not a number: {error}"))?;
    let places = u32::try_from(decimals.len()).map_err(|error| error.to_string())?;
    let size = BigRational::new(digits, BigInt::from(10).pow(places));
    Ok(if text.starts_with('-') { -size } else { size })
}

/// Reads a sum and works it out.
pub fn work_out(text: &str) -> Result<Sum, String> {
    let tokens = tokens(text)?;
    let mut reader = Reader { tokens: &tokens, next: 0, literals: Vec::new() };
    let outcome = reader.conjunction()?;
    if reader.next < tokens.len() {
        return Err(format!("`{text}` goes on after its end"));
    }
    Ok(Sum { outcome, literals: reader.literals })
}

const WORDS: [&str; 4] = ["max", "min", "abs", "and"];

fn tokens(text: &str) -> Result<Vec<Token>, String> {
    let characters: Vec<char> = text.chars().collect();
    let mut tokens = Vec::new();
    let mut at = 0;
    while let Some(&character) = characters.get(at) {
        match character {
            ' ' => at += 1,
            '0'..='9' => {
                let end = end_of(&characters, at, |c| c.is_ascii_digit() || c == '.');
                tokens.push(Token::Number(characters[at..end].iter().collect()));
                at = end;
            }
            // An ASCII hyphen belongs to a negative number, and that number stands in parentheses.
            '-' => {
                let end = end_of(&characters, at + 1, |c| c.is_ascii_digit() || c == '.');
                let inside = at > 0 && characters[at - 1] == '(' && characters.get(end) == Some(&')');
                if !inside || end == at + 1 {
                    return Err(format!("`{text}`: a negative number stands in parentheses"));
                }
                tokens.push(Token::Number(characters[at..end].iter().collect()));
                at = end;
            }
            'a'..='z' => {
                let end = end_of(&characters, at, |c| c.is_ascii_lowercase());
                let word: String = characters[at..end].iter().collect();
                tokens.push(match word.as_str() {
                    "true" => Token::Truth(true),
                    "false" => Token::Truth(false),
                    other => WORDS
                        .iter()
                        .find(|known| **known == other)
                        .map(|known| Token::Word(known))
                        .ok_or_else(|| format!("`{text}`: what is `{other}`?"))?,
                });
                at = end;
            }
            '+' | '−' | '×' | '÷' | '(' | ')' | ',' | '<' | '≤' | '≥' | '>' | '=' => {
                tokens.push(Token::Sign(character));
                at += 1;
            }
            other => return Err(format!("`{text}`: what is `{other}`?")),
        }
    }
    Ok(tokens)
}

fn end_of(characters: &[char], from: usize, belongs: impl Fn(char) -> bool) -> usize {
    characters[from..]
        .iter()
        .position(|character| !belongs(*character))
        .map_or(characters.len(), |length| from + length)
}

struct Reader<'tokens> {
    tokens: &'tokens [Token],
    next: usize,
    literals: Vec<String>,
}

impl Reader<'_> {
    fn peek(&self) -> Option<&Token> {
        self.tokens.get(self.next)
    }

    fn take(&mut self, wanted: &Token) -> bool {
        let found = self.peek() == Some(wanted);
        if found {
            self.next += 1;
        }
        found
    }

    fn take_sign(&mut self, signs: &[char]) -> Option<char> {
        match self.peek() {
            Some(&Token::Sign(sign)) if signs.contains(&sign) => {
                self.next += 1;
                Some(sign)
            }
            _ => None,
        }
    }

    fn conjunction(&mut self) -> Result<Outcome, String> {
        let mut outcome = self.comparison()?;
        while self.take(&Token::Word("and")) {
            let right = self.comparison()?;
            outcome = match (outcome, right) {
                (Outcome::Truth(left), Outcome::Truth(right)) => Outcome::Truth(left && right),
                _ => return Err("`and` joins comparisons".to_owned()),
            };
        }
        Ok(outcome)
    }

    fn comparison(&mut self) -> Result<Outcome, String> {
        let left = self.total()?;
        let Some(sign) = self.take_sign(&['<', '≤', '≥', '>', '=']) else {
            return Ok(left);
        };
        let (left, right) = (as_number(left)?, as_number(self.total()?)?);
        Ok(Outcome::Truth(match sign {
            '<' => left < right,
            '≤' => left <= right,
            '≥' => left >= right,
            '>' => left > right,
            _ => left == right,
        }))
    }

    fn total(&mut self) -> Result<Outcome, String> {
        let mut outcome = self.product()?;
        while let Some(sign) = self.take_sign(&['+', '−']) {
            let (left, right) = (as_number(outcome)?, as_number(self.product()?)?);
            outcome = Outcome::Number(if sign == '+' { left + right } else { left - right });
        }
        Ok(outcome)
    }

    fn product(&mut self) -> Result<Outcome, String> {
        let mut outcome = self.term()?;
        while let Some(sign) = self.take_sign(&['×', '÷']) {
            let (left, right) = (as_number(outcome)?, as_number(self.term()?)?);
            outcome = Outcome::Number(if sign == '×' {
                left * right
            } else if right == zero() {
                return Err("a division by nothing".to_owned());
            } else {
                left / right
            });
        }
        Ok(outcome)
    }

    fn term(&mut self) -> Result<Outcome, String> {
        let token = self.peek().cloned();
        self.next += 1;
        match token {
            Some(Token::Number(text)) => {
                let value = number(&text)?;
                self.literals.push(text);
                Ok(Outcome::Number(value))
            }
            Some(Token::Truth(truth)) => {
                self.literals.push(truth.to_string());
                Ok(Outcome::Truth(truth))
            }
            Some(Token::Sign('(')) => {
                let outcome = self.conjunction()?;
                self.close()?;
                Ok(outcome)
            }
            Some(Token::Word(word @ ("max" | "min" | "abs"))) => {
                if !self.take(&Token::Sign('(')) {
                    return Err(format!("`{word}` without its parentheses"));
                }
                let first = as_number(self.total()?)?;
                let outcome = if word == "abs" {
                    if first < zero() { -first } else { first }
                } else {
                    if !self.take(&Token::Sign(',')) {
                        return Err(format!("`{word}` of one number"));
                    }
                    let second = as_number(self.total()?)?;
                    if (word == "max") == (first > second) { first } else { second }
                };
                self.close()?;
                Ok(Outcome::Number(outcome))
            }
            other => Err(format!("a number is missing before {other:?}")),
        }
    }

    fn close(&mut self) -> Result<(), String> {
        if self.take(&Token::Sign(')')) { Ok(()) } else { Err("a parenthesis is not closed".to_owned()) }
    }
}

fn as_number(outcome: Outcome) -> Result<BigRational, String> {
    match outcome {
        Outcome::Number(number) => Ok(number),
        Outcome::Truth(_) => Err("a comparison where a number belongs".to_owned()),
    }
}

/// Nothing.
pub fn zero() -> BigRational {
    BigRational::from_integer(BigInt::from(0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn value(text: &str) -> BigRational {
        match work_out(text) {
            Ok(Sum { outcome: Outcome::Number(number), .. }) => number,
            other => panic!("{text}: {other:?}"),
        }
    }

    fn truth(text: &str) -> bool {
        match work_out(text) {
            Ok(Sum { outcome: Outcome::Truth(truth), .. }) => truth,
            other => panic!("{text}: {other:?}"),
        }
    }

    fn fraction(top: i64, bottom: i64) -> BigRational {
        BigRational::new(BigInt::from(top), BigInt::from(bottom))
    }

    #[test]
    fn multiplication_and_division_bind_more_tightly_than_addition() {
        assert_eq!(value("1 + 2 × 3 − 4 ÷ 8"), fraction(13, 2));
        assert_eq!(value("(1 + 2) × 3"), fraction(9, 1));
    }

    #[test]
    fn equal_ranks_go_from_left_to_right() {
        assert_eq!(value("10.00 − 4.00 − 3.00"), fraction(3, 1));
        assert_eq!(value("1000 ÷ 12 ÷ 2"), fraction(125, 3));
    }

    #[test]
    fn thirds_are_exact() {
        assert_eq!(value("1000 × 1 ÷ 12 × 12"), fraction(1000, 1));
    }

    #[test]
    fn a_negative_number_stands_in_parentheses() {
        assert_eq!(value("2.00 − (-5.00)"), fraction(7, 1));
        assert_eq!(value("abs((-5.00))"), fraction(5, 1));
        assert!(work_out("2.00 + -5.00").is_err());
        assert!(work_out("2.00 - 5.00").is_err());
    }

    #[test]
    fn the_larger_the_smaller_and_the_size() {
        assert_eq!(value("max(588.00, 250.00)"), fraction(588, 1));
        assert_eq!(value("max(1.00, 250.00)"), fraction(250, 1));
        assert_eq!(value("min(588.00, 250.00)"), fraction(250, 1));
        assert_eq!(value("min(1.00, 250.00)"), fraction(1, 1));
        assert_eq!(value("abs(1.00 − 3.00)"), fraction(2, 1));
    }

    #[test]
    fn comparisons_and_their_conjunction() {
        assert!(truth("1.00 < 2.00"));
        assert!(!truth("2.00 < 2.00"));
        assert!(truth("2.00 ≤ 2.00 and 3 ≥ 3"));
        assert!(!truth("2.00 ≤ 2.00 and 3 > 3"));
        assert!(truth("1 ÷ 3 = 2 ÷ 6"));
        assert!(!truth("true and false"));
    }

    #[test]
    fn the_numbers_are_kept_as_they_were_written() {
        let sum = work_out("max(0, 100.00 × 12.5 ÷ 100) + (-0.50)").expect("the sum reads");
        assert_eq!(sum.literals, ["0", "100.00", "12.5", "100", "-0.50"]);
    }

    #[test]
    fn anything_else_is_refused() {
        for text in [
            "",
            "1 +",
            "(1",
            "1)",
            "1 2",
            "1,000.00",
            "£1",
            "1e3",
            "max(1)",
            "max 1",
            "sqrt(4)",
            "1 ÷ 0",
            "1 and 2",
            "01",
            "1.",
            ".5",
            "1 < 2 < 3",
            "1 * 2",
            "1 / 2",
            "true + 1",
        ] {
            assert!(work_out(text).is_err(), "`{text}` was read");
        }
    }
}
