//! What a look-up answers, and what it says where it has no answer.

use super::{day, law};
use crate::law::{Evidence, Law, LawId, ParameterId, ParameterKind, ParameterTimeline};

#[test]
fn an_answer_carries_what_it_rests_on() {
    let law = law();
    let found = law.amount(ParameterId::FrsCapitalGoods, day("2026-04-01")).expect("in force");
    assert_eq!(found.id, LawId::Parameter(ParameterId::FrsCapitalGoods));
    assert_eq!(found.id.as_str(), "frs_capital_goods");
    assert_eq!(found.value.to_string(), "2000.00");
    assert_eq!((found.from, found.to), (day("2002-04-25"), None));
    let authority: Vec<&str> = found.authority.iter().map(|id| id.as_str()).collect();
    assert_eq!(authority, ["vat-regulations-1995-regulation-55e", "frs6500", "decision-capital-goods-at-limit"]);
    assert_eq!(found.evidence, Evidence::Law);
    assert_eq!(found.checked_on, day("2026-11-25"));
    assert!(found.note.is_some_and(|note| note.contains("£2,000")));

    let sector = law.sector("hotel-or-accommodation").expect("the category");
    let found = sector.percentage(day("2021-12-01")).expect("in force");
    assert_eq!(found.id, LawId::Sector("hotel-or-accommodation"));
    assert_eq!(found.id.as_str(), "hotel-or-accommodation");
    assert_eq!((found.from, found.to), (day("2021-10-01"), Some(day("2022-03-31"))));
    assert_eq!(found.evidence, Evidence::Practice);
    assert_eq!(found.note, None);
}

#[test]
fn outside_the_days_the_answer_names_them() {
    let law = law();
    let early = law.percentage(ParameterId::VatRateStandard, day("2011-01-03")).expect_err("before the table");
    assert_eq!(early.what, "vat_rate_standard");
    assert_eq!((early.on, early.known_from, early.known_to), (day("2011-01-03"), day("2011-01-04"), None));
    assert_eq!(
        early.to_string(),
        "the law tables hold no value of vat_rate_standard for 2011-01-03: they hold it from 2011-01-04 on"
    );
    let late = law.percentage(ParameterId::VatRateHospitality, day("2022-04-01")).expect_err("after the table");
    assert_eq!(
        late.to_string(),
        "the law tables hold no value of vat_rate_hospitality for 2022-04-01: \
         they hold it from 2020-07-15 to 2022-03-31"
    );
    let sector = law.sector("photography").expect("the category");
    assert_eq!(sector.percentage(day("2011-01-03")).expect_err("before the table").what, "photography");
}

#[test]
fn a_parameter_answers_only_as_the_kind_that_it_is() {
    let law = law();
    let on = day("2026-04-01");
    for &id in ParameterId::ALL {
        let kind = id.kind();
        assert_eq!(law.amount(id, on).is_ok(), kind == ParameterKind::Amount, "{id}");
        let ended = id == ParameterId::VatRateHospitality;
        assert_eq!(law.percentage(id, on).is_ok(), kind == ParameterKind::Percentage && !ended, "{id}");
        assert_eq!(law.days(id, on).is_ok(), kind == ParameterKind::Days, "{id}");
        assert_eq!(law.months(id, on).is_ok(), kind == ParameterKind::Months, "{id}");
        assert_eq!(law.date(id).is_ok(), kind == ParameterKind::Date, "{id}");
        let typed = match law.parameter(id).timeline() {
            ParameterTimeline::Amount(_) => ParameterKind::Amount,
            ParameterTimeline::Percentage(_) => ParameterKind::Percentage,
            ParameterTimeline::Days(_) => ParameterKind::Days,
            ParameterTimeline::Months(_) => ParameterKind::Months,
            ParameterTimeline::Date(_) => ParameterKind::Date,
        };
        assert_eq!(typed, kind, "{id}");
    }
    let mistaken = law.amount(ParameterId::VatRateStandard, on).expect_err("a percentage");
    assert_eq!(mistaken.what, "vat_rate_standard as amount (it is percentage)");
}

#[test]
fn parameters_stand_under_their_ids_in_order() {
    let law = law();
    assert!(ParameterId::ALL.is_sorted_by_key(|id| id.as_str()));
    for &id in ParameterId::ALL {
        assert_eq!(law.parameter(id).id(), id);
        assert_eq!(ParameterId::from_id(id.as_str()), Some(id));
    }
    assert_eq!(law.parameters().map(|parameter| parameter.id()).collect::<Vec<_>>(), ParameterId::ALL);
    assert_eq!(ParameterId::from_id("vat_rate"), None);
    let registration = law.parameter(ParameterId::VatRegistration);
    assert_eq!(registration.title(), "Limit for registration");
    assert_eq!(registration.comparison(), Some("liable to be registered if more than this"));
    assert!(registration.unit().starts_with("pounds"));
}

#[test]
fn an_id_that_is_not_there_is_not_found() {
    let law = law();
    assert!(law.sector("pub").is_none());
    assert!(law.sector("Pubs").is_none());
    assert!(law.sector("limited-cost-business").is_none());
    assert!(law.authority("notice-1").is_none());
    let authorities: Vec<_> = law.authorities().collect();
    assert!(authorities.len() > 100 && authorities.is_sorted_by_key(|authority| authority.id().as_str()));
    for authority in authorities {
        assert_eq!(law.authority(authority.id().as_str()), Some(authority));
    }
    assert_eq!(law.sector("photography").map(|sector| sector.name()), Some("Photography"));
}

#[test]
fn the_set_has_a_name_and_the_day_of_its_check() {
    let law = law();
    assert_eq!(law.edition(), "2026-11-25.2");
    assert_eq!(law.checked_on(), day("2026-11-25"));
}

#[test]
fn the_law_can_be_shared_between_threads() {
    fn shared<T: Send + Sync>(_: &T) {}
    shared::<Law>(&law());
}
