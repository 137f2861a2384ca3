//! Each way in which a set of tables can be unsound is found, and named by file, id and what is wrong.

use crate::law::{Law, LawError, TableProblem, Tables};

/// The text with the first `old` after the first `anchor` replaced: the anchor and the old text must be there.
pub(super) fn edited(text: &str, anchor: &str, old: &str, new: &str) -> String {
    let at = text.find(anchor).unwrap_or_else(|| panic!("there is no {anchor}"));
    let (before, after) = text.split_at(at);
    assert!(after.contains(old), "there is no {old} after {anchor}");
    format!("{before}{}", after.replacen(old, new, 1))
}

pub(super) fn refused(tables: &Tables<'_>) -> LawError {
    match Law::from_tables(tables) {
        Ok(_) => panic!("the tables were taken"),
        Err(error) => error,
    }
}

/// Asserts that a problem with this file, id and text is among those found, and gives their number.
pub(super) fn find(error: &LawError, file: &str, id: Option<&str>, what: &str) -> usize {
    let wanted =
        |problem: &&TableProblem| problem.file == file && problem.id.as_deref() == id && problem.what.contains(what);
    assert!(error.problems().iter().any(|problem| wanted(&problem)), "no {file}: {id:?}: {what} in {error}");
    error.problems().len()
}

macro_rules! unsound {
    ($($name:ident: $table:ident, $file:literal, $id:expr;
        after $anchor:literal put $new:literal for $old:literal => $what:literal, $count:literal;)+) => {
        $(
            #[test]
            fn $name() {
                let text = edited(Tables::BUILT_IN.$table, $anchor, $old, $new);
                let error = refused(&Tables { $table: &text, ..Tables::BUILT_IN });
                assert_eq!(find(&error, $file, $id, $what), $count, "{error}");
            }
        )+
    };
}

// `count` is the number of problems that the edit must make: 1 unless it breaks what other rows rest on.
unsound! {
    an_edition_without_a_name: edition, "edition.toml", None;
        after "edition" put "edition = \"\"" for "edition = \"2026-11-25.2\"" => "no name", 1;
    an_edition_checked_on_no_day: edition, "edition.toml", None;
        after "checked_on =" put "2026-11-31" for "2026-11-25" => "\"2026-11-31\" is no day", 1;

    a_table_that_is_no_toml: trades, "trades.toml", None;
        after "[[trade]]" put "[[trade" for "[[trade]]" => "line 9", 1;
    a_field_that_is_not_known: parameters, "parameters.toml", None;
        after "[[parameter.row]]" put "\nvat = \"1\"\nvalue" for "\nvalue" => "unknown field `vat`", 1;
    a_field_that_is_missing: flat_rate_percentages, "flat_rate_percentages.toml", None;
        after "id = \"pubs\"" put "" for "name = \"Pubs\"" => "missing field `name`", 1;

    an_authority_with_a_malformed_id: authorities, "authorities.toml", Some("Notice 700/22");
        after "id = \"notice-700-22\"" put "Notice 700/22" for "notice-700-22" => "lower case words", 2;
    an_authority_that_stands_twice: authorities, "authorities.toml", Some("bim31585");
        after "[[authority]]" put "[[authority]]\nid = \"bim31585\"\ntitle = \"Again\"\nkind = \"manual\"\n[[authority]]"
        for "[[authority]]" => "stands twice", 1;
    an_authority_without_a_title: authorities, "authorities.toml", Some("common-practice");
        after "id = \"common-practice\"" put "\"\"" for "\"Common practice, no source\"" => "title is empty", 1;
    an_authority_of_no_known_kind: authorities, "authorities.toml", Some("notice-700-22");
        after "id = \"notice-700-22\"" put "\"letter\"" for "\"notice\"" => "kind \"letter\" is none of act,", 1;
    an_authority_at_no_https_address: authorities, "authorities.toml", Some("bim31585");
        after "id = \"bim31585\"" put "http://" for "https://" => "no https address", 1;
    an_authority_that_only_a_rule_cites_is_missing: authorities, "authorities.toml", Some("notice-700-22");
        after "id = \"notice-700-22\"" put "notice-700-23" for "notice-700-22" => "a rule cites it", 1;

    a_parameter_that_is_not_known: parameters, "parameters.toml", Some("vat_rate_none");
        after "id = \"vat_rate_zero\"" put "vat_rate_none" for "vat_rate_zero" => "no such parameter", 2;
    a_parameter_that_is_missing: parameters, "parameters.toml", Some("vat_rate_zero");
        after "id = \"vat_rate_zero\"" put "vat_rate_none" for "vat_rate_zero" => "missing", 2;
    a_parameter_that_stands_twice: parameters, "parameters.toml", Some("vat_rate_standard");
        after "id = \"vat_rate_zero\"" put "vat_rate_standard" for "vat_rate_zero" => "stands twice", 2;
    a_parameter_of_the_wrong_kind: parameters, "parameters.toml", Some("vat_rate_zero");
        after "id = \"vat_rate_zero\"" put "\"amount\"" for "\"percentage\"" => "it must be \"percentage\"", 1;
    a_parameter_without_a_title: parameters, "parameters.toml", Some("vat_rate_zero");
        after "id = \"vat_rate_zero\"" put "\" \"" for "\"Zero rate of VAT\"" => "title is empty", 1;
    a_parameter_without_a_unit: parameters, "parameters.toml", Some("earliest_period_start");
        after "id = \"earliest_period_start\"" put "\"\"" for "\"a day\"" => "unit is empty", 1;
    a_parameter_with_an_empty_comparison: parameters, "parameters.toml", Some("frs_capital_goods");
        after "id = \"frs_capital_goods\"" put "\"\"" for "\"may claim if this or more\"" => "comparison is empty", 1;
    a_parameter_without_a_row: parameters, "parameters.toml", Some("frs_notify_change");
        after "id = \"frs_notify_change\"" put "row = []\n[[parameter]]\nid = \"spare\"\ntitle = \"Spare\"\nkind = \"days\"\nunit = \"days\"\n[[parameter.row]]"
        for "[[parameter.row]]" => "no row", 2;

    an_amount_of_nothing: parameters, "parameters.toml", Some("frs_capital_goods");
        after "id = \"frs_capital_goods\"" put "\"0.00\"" for "\"2000.00\"" => "not more than 0", 1;
    an_amount_that_is_none: parameters, "parameters.toml", Some("frs_capital_goods");
        after "id = \"frs_capital_goods\"" put "\"2,000\"" for "\"2000.00\"" => "\"2,000\" is no amount", 1;
    a_percentage_above_100: parameters, "parameters.toml", Some("limited_cost_business");
        after "id = \"limited_cost_business\"" put "\"100.01\"" for "\"16.5\"" => "between 0 and 100", 1;
    a_percentage_below_0: flat_rate_percentages, "flat_rate_percentages.toml", Some("packaging");
        after "id = \"packaging\"" put "\"-9\"" for "\"9\"" => "between 0 and 100", 1;
    no_days_at_all: parameters, "parameters.toml", Some("frs_notify_change");
        after "id = \"frs_notify_change\"" put "\"0\"" for "\"30\"" => "1 to 366", 1;
    more_days_than_a_year_has: parameters, "parameters.toml", Some("frs_notify_change");
        after "id = \"frs_notify_change\"" put "\"367\"" for "\"30\"" => "1 to 366", 1;
    days_with_a_leading_nought: parameters, "parameters.toml", Some("frs_notify_change");
        after "id = \"frs_notify_change\"" put "\"030\"" for "\"30\"" => "1 to 366", 1;
    a_value_that_is_no_day: parameters, "parameters.toml", Some("frs_postponed_imports");
        after "id = \"frs_postponed_imports\"" put "value = \"1 June 2022\"" for "value = \"2022-06-01\""
        => "\"1 June 2022\" is no day", 1;

    a_row_from_no_day: parameters, "parameters.toml", Some("vat_rate_zero");
        after "id = \"vat_rate_zero\"" put "\"19940901\"" for "\"1994-09-01\"" => "from \"19940901\" is no day", 1;
    a_row_to_no_day: parameters, "parameters.toml", Some("vat_rate_hospitality");
        after "id = \"vat_rate_hospitality\"" put "\"2021-09-31\"" for "\"2021-09-30\"" => "to \"2021-09-31\" is no day", 1;
    a_row_checked_on_no_day: parameters, "parameters.toml", Some("vat_rate_zero");
        after "id = \"vat_rate_zero\"" put "\"today\"" for "\"2026-11-25\"" => "checked_on \"today\" is no day", 1;
    a_row_with_evidence_of_no_known_mark: parameters, "parameters.toml", Some("vat_rate_zero");
        after "id = \"vat_rate_zero\"" put "\"hearsay\"" for "\"memory\"" => "evidence \"hearsay\" is none of law,", 1;
    a_row_with_an_empty_note: parameters, "parameters.toml", Some("frs_limited_cost_percent");
        after "id = \"frs_limited_cost_percent\"" put "\"\"" for "\"Spending exactly the required amount is enough.\""
        => "note is empty", 1;
    a_row_that_cites_nothing: parameters, "parameters.toml", Some("frs_notify_change");
        after "id = \"frs_notify_change\"" put "[]" for "[\"vat-regulations-1995-regulation-55n\"]" => "no authority", 1;
    a_row_that_cites_what_is_not_there: parameters, "parameters.toml", Some("frs_notify_change");
        after "id = \"frs_notify_change\"" put "regulation-55z" for "regulation-55n"
        => "\"vat-regulations-1995-regulation-55z\" is not in authorities.toml", 1;
    a_row_that_cites_twice: parameters, "parameters.toml", Some("frs_notify_change");
        after "id = \"frs_notify_change\"" put "55n\", \"vat-regulations-1995-regulation-55n\"" for "55n\""
        => "cited twice", 1;

    a_row_that_ends_before_it_begins: parameters, "parameters.toml", Some("vat_rate_hospitality");
        after "id = \"vat_rate_hospitality\"" put "2021-09-30" for "2022-03-31" => "ends before it begins", 1;
    a_gap_between_rows: parameters, "parameters.toml", Some("vat_registration");
        after "id = \"vat_registration\"" put "to = \"2012-03-30\"" for "to = \"2012-03-31\""
        => "a gap between 2012-03-30 and 2012-04-01", 1;
    an_overlap_of_rows: flat_rate_percentages, "flat_rate_percentages.toml", Some("pubs");
        after "id = \"pubs\"" put "to = \"2020-07-15\"" for "to = \"2020-07-14\""
        => "from 2011-01-04 and from 2020-07-15 overlap", 1;
    rows_out_of_order: parameters, "parameters.toml", Some("vat_registration");
        after "id = \"vat_registration\"" put "from = \"2009-04-01\"" for "from = \"2011-04-01\""
        => "the row from 2009-04-01 stands after the row from 2010-04-01", 1;
    an_open_row_before_another: parameters, "parameters.toml", Some("vat_registration");
        after "id = \"vat_registration\"" put "" for "to = \"2024-03-31\"" => "no end, yet another follows", 1;
    a_parameter_that_begins_too_late: parameters, "parameters.toml", Some("car_lease_recoverable_share");
        after "id = \"car_lease_recoverable_share\"" put "2011-01-05" for "2011-01-04"
        => "begins on 2011-01-05, after the earliest period start, 2011-01-04", 1;
    a_parameter_that_ends: parameters, "parameters.toml", Some("limited_cost_business");
        after "id = \"limited_cost_business\"" put "\nto = \"2030-03-31\"\nauthority" for "\nauthority"
        => "ends on 2030-03-31", 1;
    a_day_with_two_rows: parameters, "parameters.toml", Some("frs_postponed_imports");
        after "id = \"frs_postponed_imports\"" put "\nto = \"2022-06-30\"\nauthority = [\"brief-2022-3\"]\nevidence = \"law\"\nchecked_on = \"2026-11-25\"\n[[parameter.row]]\nvalue = \"2022-07-01\"\nfrom = \"2022-07-01\"\nauthority"
        for "\nauthority" => "one row only", 1;

    a_category_with_a_malformed_id: flat_rate_percentages, "flat_rate_percentages.toml", Some("social_work");
        after "id = \"social-work\"" put "social_work" for "social-work" => "lower case words", 1;
    a_category_without_a_name: flat_rate_percentages, "flat_rate_percentages.toml", Some("pubs");
        after "id = \"pubs\"" put "\"\"" for "\"Pubs\"" => "name is empty", 1;
    a_category_that_stands_twice: flat_rate_percentages, "flat_rate_percentages.toml", Some("packaging");
        after "id = \"social-work\"" put "packaging" for "social-work" => "stands twice", 1;
    a_category_that_begins_too_late: flat_rate_percentages, "flat_rate_percentages.toml", Some("packaging");
        after "id = \"packaging\"" put "2011-01-05" for "2011-01-04" => "after the earliest period start", 1;
    a_category_that_ends: flat_rate_percentages, "flat_rate_percentages.toml", Some("packaging");
        after "id = \"packaging\"" put "\nto = \"2030-03-31\"\nauthority" for "\nauthority" => "ends on 2030-03-31", 1;

    holidays_known_from_no_day: bank_holidays, "bank_holidays.toml", None;
        after "known_from =" put "\"2011\"" for "\"2011-01-01\"" => "known_from \"2011\" is no day", 1;
    holidays_of_half_a_year: bank_holidays, "bank_holidays.toml", None;
        after "known_to =" put "2028-06-30" for "2028-12-31" => "must be whole years", 1;
    holidays_proclaimed_later_than_known: bank_holidays, "bank_holidays.toml", None;
        after "proclaimed_to =" put "2029-12-31" for "2026-12-31" => "proclaimed_to in them", 1;
    a_holiday_on_two_rules: bank_holidays, "bank_holidays.toml", Some("Good Friday");
        after "name = \"Good Friday\"" put "easter = -2\nday = \"04-01\"" for "easter = -2" => "a holiday has day", 1;
    a_holiday_on_no_such_monday: bank_holidays, "bank_holidays.toml", Some("Spring bank holiday");
        after "name = \"Spring bank holiday\"" put "\"fourth\"" for "\"last\"" => "first or last", 1;
    a_holiday_in_no_such_month: bank_holidays, "bank_holidays.toml", Some("Spring bank holiday");
        after "name = \"Spring bank holiday\"" put "month = 13" for "month = 5" => "a holiday has day", 1;
    a_holiday_that_only_leap_years_have: bank_holidays, "bank_holidays.toml", Some("Christmas Day");
        after "name = \"Christmas Day\"" put "02-29" for "12-25" => "a holiday has day", 1;
    a_holiday_of_no_known_nation: bank_holidays, "bank_holidays.toml", Some("St Andrew's Day");
        after "name = \"St Andrew's Day\"" put "[\"wales\"]" for "[\"scotland\"]" => "\"wales\" is no nation", 1;
    a_holiday_of_no_nation: bank_holidays, "bank_holidays.toml", Some("St Andrew's Day");
        after "name = \"St Andrew's Day\"" put "[]" for "[\"scotland\"]" => "no nation is named", 1;
    a_day_proclaimed_too_late: bank_holidays, "bank_holidays.toml", Some("Football World Cup");
        after "name = \"Football World Cup\"" put "2027-06-15" for "2026-06-15" => "2027-06-15 is outside", 1;
    a_day_moved_out_of_its_year: bank_holidays, "bank_holidays.toml", Some("Spring bank holiday, moved");
        after "on = \"2012-06-04\"" put "2011-05-30" for "2012-05-28" => "moved within its year", 1;

    a_trade_without_a_name: trades, "trades.toml", Some("");
        after "trade = \"Bakers\"" put "\"\"" for "\"Bakers\"" => "trade is empty", 1;
    a_trade_in_no_known_category: trades, "trades.toml", Some("Authors");
        after "trade = \"Authors\"" put "writing" for "entertainment-or-journalism" => "no category \"writing\"", 1;
    a_trade_twice_in_its_category: trades, "trades.toml", Some("Authors");
        after "trade = \"Artists and arts facilities\"" put "Authors" for "Artists and arts facilities" => "stands twice", 1;
    a_trade_that_cites_what_is_not_there: trades, "trades.toml", Some("Authors");
        after "trade = \"Authors\"" put "frs9999" for "frs7200" => "\"frs9999\" is not in authorities.toml", 1;
    a_trade_with_evidence_of_no_known_mark: trades, "trades.toml", Some("Authors");
        after "trade = \"Authors\"" put "\"hearsay\"" for "\"official_guidance\"" => "evidence \"hearsay\"", 1;
    a_trade_with_an_empty_note: trades, "trades.toml", Some("Hotels");
        after "trade = \"Hotels\"" put "\"\"" for "\"The words of the category itself.\"" => "note is empty", 1;
}

#[test]
fn rows_checked_after_the_set() {
    let edition = edited(Tables::BUILT_IN.edition, "checked_on =", "2026-11-25", "2026-11-24");
    let error = refused(&Tables { edition: &edition, ..Tables::BUILT_IN });
    find(
        &error,
        "parameters.toml",
        Some("vat_rate_zero"),
        "checked_on 2026-11-25 is later than the set's own, 2026-11-24",
    );
    let rows = Tables::BUILT_IN.parameters.matches("[[parameter.row]]").count()
        + Tables::BUILT_IN.flat_rate_percentages.matches("[[sector.row]]").count()
        + Tables::BUILT_IN.fuel_scale_charges.matches("[[table]]").count();
    // The table of bank holidays was checked as a whole.
    assert_eq!(error.problems().len(), rows + 1);
}

#[test]
fn a_set_without_categories() {
    let tables = Tables { flat_rate_percentages: "sector = []", trades: "trade = []", ..Tables::BUILT_IN };
    let error = refused(&tables);
    assert_eq!(find(&error, "flat_rate_percentages.toml", None, "no category of business"), 1);
}

#[test]
fn one_category_without_trades_is_enough() {
    let categories = "[[sector]]\nid = \"packaging\"\nname = \"Packaging\"\n[[sector.row]]\nvalue = \"9\"\n\
        from = \"2011-01-04\"\nauthority = [\"notice-733\"]\nevidence = \"memory\"\nchecked_on = \"2026-11-25\"\n";
    let tables = Tables { flat_rate_percentages: categories, trades: "trade = []", ..Tables::BUILT_IN };
    let law = Law::from_tables(&tables).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(law.sectors().map(|sector| sector.id()).collect::<Vec<_>>(), ["packaging"]);
}

#[test]
fn everything_wrong_is_named_at_once() {
    let parameters = edited(Tables::BUILT_IN.parameters, "id = \"frs_capital_goods\"", "\"2000.00\"", "\"none\"");
    let parameters = edited(&parameters, "id = \"vat_rate_zero\"", "\"memory\"", "\"hearsay\"");
    let trades = edited(Tables::BUILT_IN.trades, "trade = \"Authors\"", "frs7200", "frs9999");
    let error = refused(&Tables { parameters: &parameters, trades: &trades, ..Tables::BUILT_IN });
    assert_eq!(
        error.to_string(),
        "the law tables are not fit for use:\n  \
         parameters.toml: frs_capital_goods: \"none\" is no amount: \
         only digits, one full stop and a leading minus sign may stand here\n  \
         parameters.toml: vat_rate_zero: evidence \"hearsay\" is none of law, official_guidance, \
         official_guidance_quoted, practice, memory\n  \
         trades.toml: Authors: the authority \"frs9999\" is not in authorities.toml"
    );
}

#[test]
fn a_table_of_authorities_that_cannot_be_read_is_named_once() {
    let error = refused(&Tables { authorities: "authority = 1", ..Tables::BUILT_IN });
    assert_eq!(find(&error, "authorities.toml", None, "line 1"), 1);
}
