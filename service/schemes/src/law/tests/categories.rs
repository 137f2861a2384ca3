//! Every category of business on the days around each of its boundaries.

use super::{Expected, day, days_to_ask, law};

/// The categories whose percentage has stood unchanged since the Table of 4 January 2011, written out by hand.
const STEADY: &[(&str, &str)] = &[
    ("accountancy-or-book-keeping", "14.5"),
    ("advertising", "11"),
    ("agricultural-services", "11"),
    ("any-other-activity-not-listed-elsewhere", "12"),
    ("architect-civil-and-structural-engineer-or-surveyor", "14.5"),
    ("boarding-or-care-of-animals", "12"),
    ("business-services-not-listed-elsewhere", "12"),
    ("computer-and-it-consultancy-or-data-processing", "14.5"),
    ("computer-repair-services", "10.5"),
    ("dealing-in-waste-or-scrap", "10.5"),
    ("entertainment-or-journalism", "12.5"),
    ("estate-agency-or-property-management-services", "12"),
    ("farming-or-agriculture-not-listed-elsewhere", "6.5"),
    ("film-radio-television-or-video-production", "13"),
    ("financial-services", "13.5"),
    ("forestry-or-fishing", "10.5"),
    ("general-building-or-construction-services", "9.5"),
    ("hairdressing-or-other-beauty-treatment-services", "13"),
    ("hiring-or-renting-goods", "9.5"),
    ("investigation-or-security", "12"),
    ("labour-only-building-or-construction-services", "14.5"),
    ("laundry-or-dry-cleaning-services", "12"),
    ("lawyer-or-legal-services", "14.5"),
    ("library-archive-museum-or-other-cultural-activity", "9.5"),
    ("management-consultancy", "14"),
    ("manufacturing-fabricated-metal-products", "10.5"),
    ("manufacturing-food", "9"),
    ("manufacturing-not-listed-elsewhere", "9.5"),
    ("manufacturing-yarn-textiles-or-clothing", "9"),
    ("membership-organisation", "8"),
    ("mining-or-quarrying", "10"),
    ("packaging", "9"),
    ("photography", "11"),
    ("post-offices", "5"),
    ("printing", "8.5"),
    ("publishing", "11"),
    ("real-estate-activity-not-listed-elsewhere", "14"),
    ("repairing-personal-or-household-goods", "10"),
    ("repairing-vehicles", "8.5"),
    ("retailing-food-confectionery-tobacco-newspapers-or-childrens-clothing", "4"),
    ("retailing-not-listed-elsewhere", "7.5"),
    ("retailing-pharmaceuticals-medical-goods-cosmetics-or-toiletries", "8"),
    ("retailing-vehicles-or-fuel", "6.5"),
    ("secretarial-services", "13"),
    ("social-work", "11"),
    ("sport-or-recreation", "8.5"),
    ("transport-or-storage-including-couriers-freight-removals-and-taxis", "10"),
    ("travel-agency", "10.5"),
    ("veterinary-medicine", "11"),
    ("wholesaling-agricultural-products", "8"),
    ("wholesaling-food", "7.5"),
    ("wholesaling-not-listed-elsewhere", "8.5"),
];

/// The three that had temporary percentages: from 4 January 2011, 15 July 2020, 1 October 2021 and 1 April 2022.
const HOSPITALITY: &[(&str, [&str; 4])] = &[
    ("catering-services-including-restaurants-and-takeaways", ["12.5", "4.5", "8.5", "12.5"]),
    ("hotel-or-accommodation", ["10.5", "0", "5.5", "10.5"]),
    ("pubs", ["6.5", "1", "4", "6.5"]),
];

fn expected() -> Vec<(&'static str, Vec<Expected>)> {
    let steady = STEADY.iter().map(|&(id, percentage)| (id, vec![("2011-01-04", None, percentage)]));
    let hospitality = HOSPITALITY.iter().map(|&(id, [before, first, second, after])| {
        let rows = vec![
            ("2011-01-04", Some("2020-07-14"), before),
            ("2020-07-15", Some("2021-09-30"), first),
            ("2021-10-01", Some("2022-03-31"), second),
            ("2022-04-01", None, after),
        ];
        (id, rows)
    });
    let mut all: Vec<_> = steady.chain(hospitality).collect();
    all.sort();
    all
}

#[test]
fn there_are_55_categories_and_the_list_names_each() {
    let law = law();
    let known: Vec<&str> = law.sectors().map(|sector| sector.id()).collect();
    let listed: Vec<&str> = expected().into_iter().map(|(id, _)| id).collect();
    assert_eq!(known, listed);
    assert_eq!(known.len(), 55);
}

#[test]
fn every_percentage_holds_on_the_days_around_each_boundary_and_nowhere_else() {
    let law = law();
    for (id, rows) in expected() {
        let sector = law.sector(id).unwrap_or_else(|| panic!("{id} is not known"));
        for (on, value) in days_to_ask(&rows) {
            let found = sector.percentage(on).ok().map(|found| found.value.to_string());
            assert_eq!(found.as_deref(), value, "{id} on {on}");
        }
        assert_eq!(sector.history().rows().len(), rows.len(), "{id}");
    }
}

#[test]
fn changes_are_the_days_after_one_and_up_to_another() {
    let law = law();
    let pubs = law.sector("pubs").expect("pubs");
    let within = |after: &str, until: &str| -> Vec<String> {
        pubs.changes_within(day(after), day(until)).map(|day| day.to_string()).collect()
    };
    assert_eq!(within("2020-07-01", "2022-06-30"), ["2020-07-15", "2021-10-01", "2022-04-01"]);
    assert_eq!(within("2020-07-14", "2020-07-15"), ["2020-07-15"]);
    assert_eq!(within("2020-07-15", "2021-09-30"), Vec::<String>::new());
    assert_eq!(within("2020-07-01", "2020-07-14"), Vec::<String>::new());
    // The day on which the table begins is no change.
    assert_eq!(within("2010-01-01", "2012-01-01"), Vec::<String>::new());
}

#[test]
fn seven_categories_take_what_no_other_names() {
    let law = law();
    let ids: Vec<&str> =
        law.sectors().filter(|sector| sector.is_not_listed_elsewhere()).map(|sector| sector.id()).collect();
    assert_eq!(
        ids,
        [
            "any-other-activity-not-listed-elsewhere",
            "business-services-not-listed-elsewhere",
            "farming-or-agriculture-not-listed-elsewhere",
            "manufacturing-not-listed-elsewhere",
            "real-estate-activity-not-listed-elsewhere",
            "retailing-not-listed-elsewhere",
            "wholesaling-not-listed-elsewhere",
        ]
    );
}

#[test]
fn every_trade_stands_in_its_category_by_name() {
    let law = law();
    assert_eq!(law.sectors().map(|sector| sector.trades().len()).sum::<usize>(), 78);
    for sector in law.sectors() {
        let names: Vec<&str> = sector.trades().iter().map(|trade| trade.name()).collect();
        assert!(names.is_sorted(), "{}: {names:?}", sector.id());
    }
    let animals = law.sector("boarding-or-care-of-animals").expect("the category");
    let names: Vec<&str> = animals.trades().iter().map(|trade| trade.name()).collect();
    assert_eq!(names, ["Boarding kennels and catteries", "Farriers and animal blacksmiths"]);
}
