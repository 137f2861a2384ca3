//! Searching names by the beginnings of their words.

/// The words of a text in lower case: whatever is not a letter or a digit parts them.
pub(super) fn words_of(text: &str) -> Vec<String> {
    text.split(|character: char| !character.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect()
}

/// Whether each word sought is the beginning of one of the words.
pub(super) fn every_word_begins_one(sought: &[String], words: &[String]) -> bool {
    sought.iter().all(|beginning| words.iter().any(|word| word.starts_with(beginning.as_str())))
}
