//! Every dated number on the days around each of its boundaries.

use super::{Expected, day, days_to_ask, law};
use crate::law::{Law, NotInForce, ParameterId, ParameterKind};

/// Every parameter with every value, written out by hand.
const NUMBERS: &[(&str, &[Expected])] = &[
    ("annual_accounting_instalment_of_nine", &[("2011-01-04", None, "10")]),
    ("annual_accounting_instalment_of_three", &[("2011-01-04", None, "25")]),
    ("annual_accounting_join", &[("2006-04-01", None, "1350000.00")]),
    ("annual_accounting_leave", &[("2006-04-01", None, "1600000.00")]),
    ("annual_accounting_return_months", &[("2011-01-04", None, "2")]),
    ("bad_debt_claim_months", &[("2011-01-04", None, "54")]),
    ("bad_debt_waiting_months", &[("2011-01-04", None, "6")]),
    ("car_lease_recoverable_share", &[("2011-01-04", None, "50")]),
    ("cash_accounting_join", &[("2007-04-01", None, "1350000.00")]),
    ("cash_accounting_leave", &[("2007-04-01", None, "1600000.00")]),
    ("cash_accounting_leaving_months", &[("2011-01-04", None, "6")]),
    ("cash_accounting_leaving_three_months", &[("2011-01-04", None, "1350000.00")]),
    ("deregistration_assets_vat", &[("2011-01-04", None, "1000.00")]),
    ("deregistration_notice", &[("2011-01-04", None, "30")]),
    ("direct_debit_collection", &[("2011-01-04", None, "3")]),
    ("earliest_period_start", &[("2011-01-04", None, "2011-01-04")]),
    ("error_correction_box_6_share", &[("2011-01-04", None, "1")]),
    ("error_correction_months", &[("2011-01-04", None, "48")]),
    ("error_correction_on_return_large", &[("2011-01-04", None, "50000.00")]),
    ("error_correction_on_return_small", &[("2011-01-04", None, "10000.00")]),
    ("frs_capital_goods", &[("2002-04-25", None, "2000.00")]),
    ("frs_first_year_reduction", &[("2004-01-01", None, "1")]),
    ("frs_join_taxable_turnover", &[("2003-04-10", None, "150000.00")]),
    ("frs_labour_only_materials_share", &[("2011-01-04", None, "10")]),
    ("frs_leave_income_next_30_days", &[("2011-01-04", None, "230000.00")]),
    ("frs_leave_income_past_year", &[("2011-01-04", None, "230000.00")]),
    ("frs_limited_cost_amount", &[("2017-04-01", None, "1000.00")]),
    ("frs_limited_cost_percent", &[("2017-04-01", None, "2")]),
    ("frs_notify_change", &[("2004-01-01", None, "30")]),
    ("frs_postponed_imports", &[("2022-06-01", None, "2022-06-01")]),
    ("frs_stay_income_next_year", &[("2011-01-04", None, "191500.00")]),
    ("input_tax_claim_months", &[("2011-01-04", None, "48")]),
    ("input_tax_without_invoice", &[("2011-01-04", None, "25.00")]),
    ("less_detailed_invoice", &[("2011-01-04", None, "250.00")]),
    ("limited_cost_business", &[("2017-04-01", None, "16.5")]),
    ("northern_ireland_goods", &[("2021-01-01", None, "2021-01-01")]),
    ("partial_exemption_annual_test_input_tax", &[("2011-01-04", None, "1000000.00")]),
    ("partial_exemption_main_test_monthly", &[("2011-01-04", None, "625.00")]),
    ("partial_exemption_main_test_share", &[("2011-01-04", None, "50")]),
    ("partial_exemption_override_residual", &[("2011-01-04", None, "50000.00")]),
    ("partial_exemption_rounding_monthly", &[("2011-01-04", None, "400000.00")]),
    ("partial_exemption_simplified_test_monthly", &[("2010-04-01", None, "625.00")]),
    ("partial_exemption_simplified_test_share", &[("2010-04-01", None, "50")]),
    ("pre_registration_goods_months", &[("2011-01-04", None, "48")]),
    ("pre_registration_services_months", &[("2011-01-04", None, "6")]),
    ("registration_notice", &[("2011-01-04", None, "30")]),
    ("return_due_days", &[("2011-01-04", None, "7")]),
    ("return_due_months", &[("2011-01-04", None, "1")]),
    ("unpaid_purchase_months", &[("2011-01-04", None, "6")]),
    (
        "vat_deregistration",
        &[
            ("2010-04-01", Some("2011-03-31"), "68000.00"),
            ("2011-04-01", Some("2012-03-31"), "71000.00"),
            ("2012-04-01", Some("2013-03-31"), "75000.00"),
            ("2013-04-01", Some("2014-03-31"), "77000.00"),
            ("2014-04-01", Some("2015-03-31"), "79000.00"),
            ("2015-04-01", Some("2016-03-31"), "80000.00"),
            ("2016-04-01", Some("2017-03-31"), "81000.00"),
            ("2017-04-01", Some("2024-03-31"), "83000.00"),
            ("2024-04-01", None, "88000.00"),
        ],
    ),
    ("vat_rate_hospitality", &[("2020-07-15", Some("2021-09-30"), "5"), ("2021-10-01", Some("2022-03-31"), "12.5")]),
    ("vat_rate_reduced", &[("1997-09-01", None, "5")]),
    ("vat_rate_standard", &[("2011-01-04", None, "20")]),
    ("vat_rate_zero", &[("1994-09-01", None, "0")]),
    (
        "vat_registration",
        &[
            ("2010-04-01", Some("2011-03-31"), "70000.00"),
            ("2011-04-01", Some("2012-03-31"), "73000.00"),
            ("2012-04-01", Some("2013-03-31"), "77000.00"),
            ("2013-04-01", Some("2014-03-31"), "79000.00"),
            ("2014-04-01", Some("2015-03-31"), "81000.00"),
            ("2015-04-01", Some("2016-03-31"), "82000.00"),
            ("2016-04-01", Some("2017-03-31"), "83000.00"),
            ("2017-04-01", Some("2024-03-31"), "85000.00"),
            ("2024-04-01", None, "90000.00"),
        ],
    ),
];

/// The value by the look-up of the parameter's own kind, as text. A day that is itself the value knows no day to ask for.
fn typed(law: &Law, id: ParameterId, on: &str) -> Result<String, NotInForce> {
    match id.kind() {
        ParameterKind::Amount => law.amount(id, day(on)).map(|found| found.value.to_string()),
        ParameterKind::Percentage => law.percentage(id, day(on)).map(|found| found.value.to_string()),
        ParameterKind::Days => law.days(id, day(on)).map(|found| found.value.to_string()),
        ParameterKind::Months => law.months(id, day(on)).map(|found| found.value.to_string()),
        ParameterKind::Date => law.date(id).map(|found| found.value.to_string()),
    }
}

#[test]
fn the_list_names_every_parameter() {
    let listed: Vec<&str> = NUMBERS.iter().map(|&(id, _)| id).collect();
    let known: Vec<&str> = ParameterId::ALL.iter().map(|id| id.as_str()).collect();
    assert_eq!(known, listed);
}

#[test]
fn every_number_holds_on_the_days_around_each_boundary_and_nowhere_else() {
    let law = law();
    for &(name, expected) in NUMBERS {
        let id = ParameterId::from_id(name).unwrap_or_else(|| panic!("{name} is not known"));
        for (on, value) in days_to_ask(expected) {
            let found = law.parameter(id).value(on);
            let text = found.as_ref().ok().map(|found| found.value.to_string());
            assert_eq!(text.as_deref(), value, "{name} on {on}");
            if id.kind() != ParameterKind::Date {
                assert_eq!(typed(&law, id, &on.to_string()).ok().as_deref(), value, "{name} by its kind on {on}");
            }
        }
    }
}

#[test]
fn every_number_has_the_rows_of_the_list_and_no_others() {
    let law = law();
    for &(name, expected) in NUMBERS {
        let id = ParameterId::from_id(name).unwrap_or_else(|| panic!("{name} is not known"));
        let rows: Vec<_> = law
            .parameter(id)
            .history()
            .iter()
            .map(|row| (row.from.to_string(), row.to.map(|to| to.to_string()), row.value.to_string()))
            .collect();
        let listed: Vec<_> = expected
            .iter()
            .map(|&(from, to, value)| (from.to_owned(), to.map(str::to_owned), value.to_owned()))
            .collect();
        assert_eq!(rows, listed, "{name}");
    }
}

#[test]
fn a_day_that_is_the_value_is_found_without_a_day() {
    let law = law();
    let earliest = law.date(ParameterId::EarliestPeriodStart).map(|found| found.value);
    assert_eq!(earliest, Ok(day("2011-01-04")));
    let postponed = law.date(ParameterId::FrsPostponedImports).map(|found| found.value);
    assert_eq!(postponed, Ok(day("2022-06-01")));
    let northern_ireland = law.date(ParameterId::NorthernIrelandGoods).map(|found| found.value);
    assert_eq!(northern_ireland, Ok(day("2021-01-01")));
}
