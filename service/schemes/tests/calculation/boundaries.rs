//! Every limit a penny either side, and every effective date a day either side.

use crate::support::*;
use vat_schemes::figures::{Nature, Spend, SplitEstimate, Supply, Treatment, UsedFor};

/// VAT Regulations 1995 reg 55A(4): "less than" the higher of 2% and £1,000 a year in proportion; equality passes.
#[test]
fn the_goods_test_at_each_of_its_limits() {
    for (start, end, turnover, goods_spent, limited, required) in [
        // 2% of £20,000 decides.
        ("2025-04-01", "2025-06-30", "20000.00", "399.99", true, "400.00"),
        ("2025-04-01", "2025-06-30", "20000.00", "400.00", false, "400.00"),
        ("2025-04-01", "2025-06-30", "20000.00", "400.01", false, "400.00"),
        // Turnover a penny more asks for a fraction of a penny more.
        ("2025-04-01", "2025-06-30", "20000.01", "400.00", true, "400.01"),
        // £250 for a quarter decides.
        ("2025-04-01", "2025-06-30", "10000.00", "249.99", true, "250.00"),
        ("2025-04-01", "2025-06-30", "10000.00", "250.00", false, "250.00"),
        ("2025-04-01", "2025-06-30", "10000.00", "250.01", false, "250.00"),
        // Both limits at once.
        ("2025-04-01", "2025-06-30", "12500.00", "250.00", false, "250.00"),
        // A month is a twelfth of £1,000, five months five twelfths, a year all of it.
        ("2025-04-01", "2025-04-30", "2000.00", "83.33", true, "83.34"),
        ("2025-04-01", "2025-04-30", "2000.00", "83.34", false, "83.34"),
        ("2025-04-01", "2025-08-31", "2000.00", "416.66", true, "416.67"),
        ("2025-04-01", "2025-08-31", "2000.00", "416.67", false, "416.67"),
        ("2024-04-01", "2025-03-31", "2000.00", "999.99", true, "1000.00"),
        ("2024-04-01", "2025-03-31", "2000.00", "1000.00", false, "1000.00"),
        // Not whole months: days of the year that begins at the start.
        ("2025-04-01", "2025-07-01", "2000.00", "252.05", true, "252.06"),
        ("2025-04-01", "2025-07-01", "2000.00", "252.06", false, "252.06"),
        // No turnover: the pound figure stands.
        ("2025-04-01", "2025-06-30", "0.00", "0.00", true, "250.00"),
        ("2025-04-01", "2025-06-30", "-5000.00", "250.00", false, "250.00"),
    ] {
        let mut figures = period(start, end);
        figures.sales = vec![sale(Treatment::StandardRated, gross(turnover))];
        figures.purchases = vec![goods(goods_spent)];
        let test = answer(&figures).goods_test.expect("a goods test");
        assert_eq!(
            (test.limited_cost_business, test.required.to_string().as_str()),
            (limited, required),
            "{start} to {end}: £{goods_spent} on £{turnover}"
        );
    }
}

/// HMRC FRS6500: £2,000 or more, with VAT; the regulation says more than £2,000, so exactly £2,000 is warned of.
#[test]
fn capital_goods_at_the_limit() {
    for (price, claimed, warning) in [
        ("1799.99", "0.00", None),
        ("1800.00", "0.00", Some("capital_goods_under_limit")),
        ("1999.99", "0.00", Some("capital_goods_under_limit")),
        ("2000.00", "333.33", Some("capital_goods_at_limit")),
        ("2000.01", "333.34", None),
        ("-2000.00", "-333.33", None),
        ("-1999.99", "0.00", None),
    ] {
        let mut figures = quarter();
        figures.sales = vec![sale(Treatment::StandardRated, gross("10000.00"))];
        figures.purchases = vec![purchase(Spend::CapitalGoods, gross(price)), goods("250.00")];
        let answer = answer(&figures);
        assert_eq!(answer.flat_rate.input_tax, money(claimed), "{price}");
        let limits = ["capital_goods_at_limit", "capital_goods_under_limit"];
        let capital: Vec<_> = warned(&answer).into_iter().filter(|code| limits.contains(code)).collect();
        assert_eq!(warned(&answer).contains(&"capital_goods_claimed"), claimed != "0.00", "{price}");
        assert_eq!(capital, warning.into_iter().collect::<Vec<_>>(), "{price}");
    }
}

/// A tenth of the limit either side is close.
#[test]
fn goods_close_to_the_limit() {
    for (spent, close) in [("224.99", false), ("225.00", true), ("250.00", true), ("275.00", true), ("275.01", false)] {
        let mut figures = quarter();
        figures.sales = vec![sale(Treatment::StandardRated, gross("10000.00"))];
        figures.purchases = vec![goods(spent)];
        assert_eq!(warned(&answer(&figures)).contains(&"goods_close_to_limit"), close, "{spent}");
    }
}

/// VAT Regulations 1995 regs 105A and 106: £625 a month and half, both inclusive.
#[test]
fn the_partial_exemption_tests_at_their_limits() {
    struct Case {
        taxable: &'static str,
        exempt: &'static str,
        tax: [&'static str; 3],
        passes: (bool, bool, bool),
    }
    let case = |taxable, exempt, tax, passes| Case { taxable, exempt, tax, passes };
    for Case { taxable, exempt, tax, passes } in [
        case("20000.00", "20000.00", ["900.00", "375.00", "600.00"], (true, true, true)),
        // A penny more of input tax: the first test fails, the second still passes.
        case("20000.00", "20000.00", ["900.01", "375.00", "600.00"], (false, true, true)),
        // A penny more of exempt supplies than half.
        case("20000.00", "20000.01", ["900.00", "375.00", "600.00"], (false, false, true)),
        case("80000.00", "20000.00", ["20000.00", "1875.00", "0.00"], (false, true, true)),
        case("80000.00", "20000.00", ["20000.00", "1875.01", "0.00"], (false, false, false)),
        // The main test's half: £1,000 of £2,000 passes, a penny more does not.
        case("10000.00", "30000.00", ["1000.00", "1000.00", "0.00"], (false, false, true)),
        case("10000.00", "30000.00", ["999.99", "1000.00", "0.00"], (false, false, false)),
    ] {
        let mut figures = quarter();
        figures.sales = vec![sale(Treatment::ZeroRated, net(taxable)), sale(Treatment::Exempt, net(exempt))];
        figures.purchases = [UsedFor::Taxable, UsedFor::Exempt, UsedFor::Both]
            .into_iter()
            .zip(tax)
            .map(|(used_for, vat)| {
                let mut line = purchase(Spend::Services, net_and_vat("200000.00", vat));
                line.used_for = used_for;
                line
            })
            .collect();
        let calculation = answer(&figures).standard.partial_exemption.expect("a calculation");
        assert_eq!(
            (calculation.simplified_test_1, calculation.simplified_test_2, calculation.main_test),
            passes,
            "{taxable} and {exempt}, {tax:?}"
        );
    }
}

/// VAT Regulations 1995 reg 101(4), (5): a whole per cent up to £400,000 a month of residual input tax, then two decimals.
#[test]
fn the_percentage_is_rounded_up_in_two_ways() {
    for (taxable, exempt, residual, percentage) in [
        ("85000.00", "15000.00", "4000.00", "85"),
        ("800001.00", "199999.00", "5000.00", "81"),
        ("6123456.00", "3876544.00", "1200000.00", "62"),
        ("6123456.00", "3876544.00", "1200000.01", "61.24"),
        ("6123400.00", "3876600.00", "1500000.00", "61.24"),
        ("6123400.00", "3876600.00", "1500000.00", "61.24"),
    ] {
        let mut figures = quarter();
        figures.sales = vec![sale(Treatment::ZeroRated, net(taxable)), sale(Treatment::Exempt, net(exempt))];
        let mut line = purchase(Spend::Services, net_and_vat("9000000.00", residual));
        line.used_for = UsedFor::Both;
        figures.purchases = vec![line];
        let calculation = answer(&figures).standard.partial_exemption.expect("a calculation");
        assert_eq!(calculation.percentage.map(|found| found.to_string()).as_deref(), Some(percentage));
    }
}

/// VAT Regulations 1995 reg 55JB: the point comes off to the day before the first anniversary of registration.
#[test]
fn the_first_year_ends_on_the_day_before_the_anniversary() {
    for (registered, expected) in [
        // The anniversary is the period's first day: no reduction left.
        ("2024-04-01", vec![("2025-04-01", "12")]),
        // One reduced day.
        ("2024-04-02", vec![("2025-04-01", "11"), ("2025-04-02", "12")]),
        ("2024-05-10", vec![("2025-04-01", "11"), ("2025-05-10", "12")]),
        // One full day.
        ("2024-06-30", vec![("2025-04-01", "11"), ("2025-06-30", "12")]),
        // The anniversary is the day after the period.
        ("2024-07-01", vec![("2025-04-01", "11")]),
    ] {
        let mut figures = quarter();
        figures.business.registered_on = day(registered);
        figures.business.flat_rate_from = Some(day(registered));
        figures.sales = vec![sale(Treatment::StandardRated, gross("6000.00"))];
        figures.purchases = vec![goods("5000.00")];
        figures.split_estimate = Some(SplitEstimate::ByDays);
        let expected: Vec<_> = expected.into_iter().map(|(from, rate)| (from.to_owned(), rate.to_owned())).collect();
        assert_eq!(parts(&answer(&figures)), expected, "registered on {registered}");
    }
}

/// VAT Regulations 1995 reg 55JB(4)(a)(ii): a liability notified late is reduced only from that day.
#[test]
fn a_late_notification_begins_the_reduction() {
    for (notified, expected) in [
        ("2025-04-01", vec![("2025-04-01", "11")]),
        ("2025-04-02", vec![("2025-04-01", "12"), ("2025-04-02", "11")]),
        ("2025-06-30", vec![("2025-04-01", "12"), ("2025-06-30", "11")]),
        ("2025-07-01", vec![("2025-04-01", "12")]),
    ] {
        let mut figures = quarter();
        figures.business.registered_on = day("2025-01-01");
        figures.business.flat_rate_from = Some(day("2025-01-01"));
        figures.business.liability_notified_on = Some(day(notified));
        figures.sales = vec![sale(Treatment::StandardRated, gross("6000.00"))];
        figures.purchases = vec![goods("5000.00")];
        figures.split_estimate = Some(SplitEstimate::ByDays);
        let expected: Vec<_> = expected.into_iter().map(|(from, rate)| (from.to_owned(), rate.to_owned())).collect();
        assert_eq!(parts(&answer(&figures)), expected, "notified on {notified}");
    }
}

/// Each category on the day before, of and after each change of its percentage, in a period of that one day.
#[test]
fn every_category_around_every_change_of_its_percentage() {
    let law = law();
    let mut tried = 0;
    for sector in law.sectors() {
        for row in sector.history().rows() {
            for on in [row.from.yesterday(), Ok(row.from), row.from.tomorrow()].into_iter().flatten() {
                let on_text = on.to_string();
                let mut figures = period(&on_text, &on_text);
                figures.business.sector = sector.id().to_owned();
                figures.sales = vec![sale(Treatment::ZeroRated, net("100.00"))];
                figures.purchases = vec![goods("5000.00")];
                match sector.percentage(on) {
                    Ok(number) => {
                        let answer = answer(&figures);
                        assert_eq!(parts(&answer), [(on_text, number.value.to_string())], "{} on {on}", sector.id());
                        // £100 at so many per cent is so many pounds.
                        assert_eq!(answer.flat_rate.vat_payable, money(&number.value.to_string()));
                    }
                    Err(_) => assert_eq!(refused(&figures), [("period_too_early".into(), "/period/start".into())]),
                }
                tried += 1;
            }
        }
    }
    assert_eq!(tried, (55 + 3 * 3) * 3);
}

/// SI 2017/295 reg 1: from 1 April 2017, a straddling period tested from that day as a period of its own.
#[test]
fn the_goods_test_begins_in_april_2017() {
    let mut before = period("2017-01-01", "2017-03-31");
    before.sales = vec![sale(Treatment::StandardRated, gross("12000.00"))];
    let answer_before = answer(&before);
    assert!(answer_before.goods_test.is_none());
    assert_eq!(parts(&answer_before), [("2017-01-01".to_owned(), "12".to_owned())]);

    let mut from = period("2017-04-01", "2017-06-30");
    from.sales = before.sales.clone();
    assert_eq!(parts(&answer(&from)), [("2017-04-01".to_owned(), "16.5".to_owned())]);

    // One month of three lies after the change: £83.34 is needed there, not £250.
    let mut straddling = period("2017-02-01", "2017-04-30");
    straddling.sales = vec![
        in_part(sale(Treatment::StandardRated, gross("2000.00")), "2017-02-01", "2017-03-31"),
        in_part(sale(Treatment::StandardRated, gross("1000.00")), "2017-04-01", "2017-04-30"),
    ];
    for (spent, limited) in [("83.33", true), ("83.34", false)] {
        straddling.purchases = vec![goods(spent)];
        straddling.purchases[0].part =
            Some(vat_schemes::figures::Dates { start: day("2017-04-01"), end: day("2017-04-30") });
        let answer = answer(&straddling);
        let test = answer.goods_test.as_ref().expect("a goods test");
        assert_eq!((test.limited_cost_business, test.turnover.to_string().as_str()), (limited, "1000.00"));
        let expected = if limited { vec!["12", "16.5"] } else { vec!["12"] };
        let found: Vec<_> = parts(&answer).into_iter().map(|(_, percentage)| percentage).collect();
        assert_eq!(found, expected);
    }

    // Without dates on the purchase: settled where it cannot matter, asked for where it decides.
    straddling.purchases = vec![goods("83.33")];
    assert!(answer(&straddling).goods_test.expect("a goods test").limited_cost_business);
    straddling.purchases = vec![goods("83.34")];
    assert_eq!(refused(&straddling), [("period_must_be_split".into(), "/purchases/0".into())]);

    // Sales without dates are always asked for, but nothing is asked of a line of nought.
    straddling.purchases.clear();
    straddling.sales = vec![sale(Treatment::StandardRated, gross("3000.00"))];
    assert_eq!(refused(&straddling), [("period_must_be_split".into(), "/sales/0".into())]);
    straddling.sales = vec![sale(Treatment::StandardRated, gross("0.00"))];
    assert!(answer(&straddling).goods_test.is_some());
}

/// The temporary hospitality rates ran from 15 July 2020 to 31 March 2022 (SI 2020/728; Finance Act 2021 ss 92 and 93).
#[test]
fn the_hospitality_rate_around_its_days() {
    for (start, end, vat) in [
        ("2020-07-15", "2020-07-31", Some("5.00")),
        // A period that began before: the total can only be of its later days.
        ("2020-07-01", "2020-07-31", Some("5.00")),
        ("2021-09-01", "2021-09-30", Some("5.00")),
        ("2021-10-01", "2021-10-31", Some("12.50")),
        ("2022-03-01", "2022-03-31", Some("12.50")),
        ("2022-03-31", "2022-06-30", Some("12.50")),
        ("2020-07-14", "2020-07-14", None),
        ("2022-04-01", "2022-04-30", None),
    ] {
        let mut figures = period(start, end);
        figures.sales = vec![sale(Treatment::HospitalityRated, net("100.00"))];
        match vat {
            Some(vat) => assert_eq!(answer(&figures).standard.output_tax, money(vat), "{start} to {end}"),
            None => assert_eq!(
                refused(&figures),
                [("rate_not_in_force".to_owned(), "/sales/0/treatment".to_owned())],
                "{start} to {end}"
            ),
        }
    }
    // Two rates in one period: one figure does not tell the others, two do, and so does a part.
    let mut figures = period("2021-09-01", "2021-11-30");
    figures.sales = vec![sale(Treatment::HospitalityRated, gross("105.00"))];
    assert_eq!(refused(&figures), [("rate_changes_inside_line".into(), "/sales/0".into())]);
    figures.sales = vec![sale(Treatment::HospitalityRated, net_and_vat("100.00", "7.50"))];
    assert_eq!(answer(&figures).standard.output_tax, money("7.50"));
    figures.sales = vec![in_part(sale(Treatment::HospitalityRated, gross("105.00")), "2021-09-01", "2021-09-30")];
    assert_eq!(answer(&figures).standard.output_tax, money("5.00"));
}

/// Catering changed its percentage on 15 July 2020, 1 October 2021 and 1 April 2022: a period is cut there, unless the
/// limited cost percentage takes its place throughout.
#[test]
fn the_table_changes_inside_a_period() {
    let mut figures = period("2020-06-01", "2020-08-31");
    figures.business.sector = "catering-services-including-restaurants-and-takeaways".to_owned();
    figures.sales = vec![sale(Treatment::ZeroRated, net("9000.00"))];
    figures.purchases = vec![goods("5000.00")];
    let found = refusals(&figures);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].code.as_str(), "period_must_be_split");
    assert!(found[0].detail.contains("2020-06-01 to 2020-07-14, 2020-07-15 to 2020-08-31"), "{}", found[0].detail);

    figures.sales = vec![
        in_part(sale(Treatment::ZeroRated, net("4000.00")), "2020-06-01", "2020-07-14"),
        in_part(sale(Treatment::ZeroRated, net("5000.00")), "2020-07-15", "2020-08-31"),
    ];
    let answered = answer(&figures);
    assert_eq!(
        parts(&answered),
        [("2020-06-01".to_owned(), "12.5".to_owned()), ("2020-07-15".to_owned(), "4.5".to_owned())]
    );
    assert_eq!(answered.flat_rate.vat_payable, money("725.00"));

    figures.sales = vec![in_part(sale(Treatment::ZeroRated, net("9000.00")), "2020-07-14", "2020-07-15")];
    assert_eq!(refused(&figures), [("part_spans_change".into(), "/sales/0/part".into())]);
    figures.sales = vec![in_part(sale(Treatment::ZeroRated, net("9000.00")), "2020-06-01", "2020-07-20")];
    let found = refusals(&figures);
    assert!(found[0].detail.contains("runs across a change on 2020-07-15."), "{}", found[0].detail);

    figures.sales = vec![sale(Treatment::ZeroRated, net("9000.00"))];
    figures.purchases.clear();
    assert_eq!(parts(&answer(&figures)), [("2020-06-01".to_owned(), "16.5".to_owned())]);
}

/// Revenue and Customs Brief 3 (2022): periods that start on or after 1 June 2022.
#[test]
fn postponed_imports_begin_in_june_2022() {
    for (start, answered) in [("2022-05-31", false), ("2022-06-01", true), ("2022-06-02", true)] {
        let mut figures = period(start, "2022-08-31");
        let mut import = purchase(Spend::StockForResale, net_and_vat("10000.00", "2000.00"));
        import.supply = Supply::PostponedImport;
        figures.purchases = vec![import];
        if answered {
            assert_eq!(answer(&figures).flat_rate.boxes.box1, money("2000.00"));
        } else {
            assert_eq!(refused(&figures), [("postponed_import_too_early".into(), "/purchases/0/supply".into())]);
        }
    }
}

/// The tables begin on 4 January 2011.
#[test]
fn the_first_period_starts_on_4_january_2011() {
    assert_eq!(refused(&period("2011-01-03", "2011-03-31")), [("period_too_early".into(), "/period/start".into())]);
    assert_eq!(parts(&answer(&period("2011-01-04", "2011-03-31"))).len(), 1);
    assert_eq!(parts(&answer(&period("2011-01-05", "2011-03-31"))).len(), 1);
}

/// A period that ends after the law was last checked is warned of.
#[test]
fn a_period_after_the_last_check_is_warned_of() {
    let checked_on = law().checked_on();
    for (end, warned_of) in [(Ok(checked_on), false), (checked_on.tomorrow(), true)] {
        let end = end.expect("a date").to_string();
        let answer = answer(&period("2026-10-01", &end));
        assert_eq!(warned(&answer).contains(&"law_not_checked_for_period"), warned_of, "{end}");
    }
}

/// The warning that the first year ends: in the period that holds its last day, and in the one before.
#[test]
fn the_end_of_the_first_year_is_warned_of_in_time() {
    for (registered, warned_of) in [
        ("2024-04-01", false), // ended on the day before the period
        ("2024-04-02", true),
        ("2024-06-30", true),
        ("2024-07-01", true), // ends on the period's last day
        ("2024-10-01", true), // ends on the next period's last day
        ("2024-10-02", false),
    ] {
        let mut figures = quarter();
        figures.business.registered_on = day(registered);
        figures.business.flat_rate_from = Some(day(registered));
        figures.split_estimate = Some(SplitEstimate::ByDays);
        let answer = answer(&figures);
        assert_eq!(warned(&answer).contains(&"first_year_reduction_ends"), warned_of, "registered on {registered}");
    }
}

/// A given VAT amount may differ from its rate by half a penny for every £10 of value, and by £1 at least.
#[test]
fn vat_beside_its_rate_is_warned_of_beyond_rounding() {
    for (net, vat, warned_of) in [
        ("100.00", "21.00", false),
        ("100.00", "21.01", true),
        ("100.00", "19.00", false),
        ("100.00", "18.99", true),
        ("24000.00", "4812.00", false),
        ("24000.00", "4812.01", true),
        ("24000.00", "4788.00", false),
        ("24000.00", "4787.99", true),
        ("-24000.00", "-4812.00", false),
        ("-24000.00", "-4812.01", true),
    ] {
        let mut figures = quarter();
        figures.sales = vec![sale(Treatment::StandardRated, net_and_vat(net, vat))];
        assert_eq!(warned(&answer(&figures)).contains(&"vat_differs_from_rate"), warned_of, "{vat} on {net}");
    }
    // Purchases of mixed rates are not measured against the standard rate, unless it was named.
    for (vat, warned_of) in [("0.00", false), ("900.00", false), ("1002.50", false), ("1002.51", true), ("-2.51", true)]
    {
        let mut figures = quarter();
        figures.purchases = vec![purchase(Spend::Services, net_and_vat("5000.00", vat))];
        assert_eq!(warned(&answer(&figures)).contains(&"vat_differs_from_rate"), warned_of, "{vat}");
    }
}

/// Selling a capital asset: outside turnover where VAT was claimed on it, inside where not (reg 55C(4)).
#[test]
fn a_capital_asset_goes_in_or_out() {
    for (nature, turnover, box1, box6) in [
        (Nature::CapitalAsset, "18000.00", "2160.00", "18000"),
        (Nature::CapitalAssetVatClaimed, "12000.00", "2440.00", "17000"),
    ] {
        let mut figures = quarter();
        let mut van = sale(Treatment::StandardRated, net("5000.00"));
        van.nature = nature;
        figures.sales = vec![sale(Treatment::StandardRated, gross("12000.00")), van];
        figures.purchases = vec![goods("360.00")];
        let flat_rate = answer(&figures).flat_rate;
        assert_eq!(
            (flat_rate.turnover.to_string(), flat_rate.boxes.box1.to_string(), flat_rate.boxes.box6.to_string()),
            (turnover.to_owned(), box1.to_owned(), box6.to_owned())
        );
    }
}
