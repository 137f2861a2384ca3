//! Finding categories by the words of a trade.

use super::law;

/// The ids found, each with the trades in which the words were found.
fn found(words: &str) -> Vec<(String, Vec<String>)> {
    law()
        .find_sectors(words)
        .into_iter()
        .map(|found| {
            let trades = found.trades.iter().map(|trade| trade.name().to_owned()).collect();
            (found.sector.id().to_owned(), trades)
        })
        .collect()
}

fn ids(words: &str) -> Vec<String> {
    found(words).into_iter().map(|(id, _)| id).collect()
}

#[test]
fn a_trade_is_found_by_the_beginnings_of_its_words() {
    let bakers = ("retailing-food-confectionery-tobacco-newspapers-or-childrens-clothing", "Bakers");
    for words in ["bakers", "Bakers", "BAKER", "bak"] {
        assert_eq!(found(words), [(bakers.0.to_owned(), vec![bakers.1.to_owned()])], "{words}");
    }
    assert_eq!(ids("akers"), Vec::<String>::new());
}

#[test]
fn a_category_is_found_by_its_name_alone() {
    assert_eq!(found("packaging"), [("packaging".to_owned(), Vec::new())]);
    assert_eq!(found("sport recreation"), [("sport-or-recreation".to_owned(), Vec::new())]);
}

#[test]
fn a_trade_in_two_categories_is_found_in_both_by_id() {
    assert_eq!(
        found("alcoholic beverages"),
        [
            ("manufacturing-food".to_owned(), vec!["Alcoholic beverages (manufacturing)".to_owned()]),
            ("wholesaling-food".to_owned(), vec!["Alcoholic beverages (wholesaling)".to_owned()]),
        ]
    );
}

#[test]
fn every_word_must_occur_and_in_one_place() {
    assert_eq!(ids("alcoholic wholesaling"), ["wholesaling-food"]);
    assert_eq!(ids("alcoholic submarines"), Vec::<String>::new());
    // "Hotels" and "Self-catering accommodation" are two trades; no one of them, nor the category's name, holds both.
    assert_eq!(ids("hotels catering"), Vec::<String>::new());
    assert_eq!(found("self-catering").len(), 1);
}

#[test]
fn whatever_is_no_letter_or_digit_parts_words() {
    let clothing = "retailing-food-confectionery-tobacco-newspapers-or-childrens-clothing";
    for words in ["children's clothing", "children’s clothing", " clothing,  children "] {
        assert_eq!(ids(words), [clothing], "{words}");
    }
}

#[test]
fn no_words_find_everything() {
    for words in ["", "  ", "–"] {
        let all = found(words);
        assert_eq!(all.len(), 55, "{words:?}");
        assert_eq!(all.iter().map(|(_, trades)| trades.len()).sum::<usize>(), 78, "{words:?}");
    }
}
