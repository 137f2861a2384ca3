//! The figures of the law that the second calculation goes by, each with its authority. They are written down here once more,
//! apart from the service's own tables.

use super::money::{Exact, hundredths, read, whole};
use super::request::Days;
use crate::calendar::Day;

/// A day that is written in this file.
fn day(text: &str) -> Day {
    Day::read(text).unwrap_or_else(|| panic!("{text} is no day"))
}

/// Whether `on` is one of the days from `first` to `last`.
fn from_to(on: Day, first: &str, last: &str) -> bool {
    (day(first)..=day(last)).contains(&on)
}

/// 20 per cent from 4 January 2011: VATA 1994 s 2(1), Finance (No. 2) Act 2010 s 3.
pub fn standard_rate() -> Exact {
    whole(20)
}

/// 5 per cent throughout: VATA 1994 s 29A, Sch 7A.
pub fn reduced_rate() -> Exact {
    whole(5)
}

/// The temporary rate for hospitality: 5 per cent by SI 2020/728, SI 2020/1413 and Finance Act 2021 s 92, then 12.5 per cent by
/// Finance Act 2021 s 93. None on other days.
pub fn hospitality_rate(on: Day) -> Option<Exact> {
    if from_to(on, "2020-07-15", "2021-09-30") {
        Some(whole(5))
    } else if from_to(on, "2021-10-01", "2022-03-31") {
        Some(read("12.5"))
    } else {
        None
    }
}

/// The rates for hospitality on the days of a line. A supply at such a rate was made while there was one, whatever the other days.
pub fn hospitality_rates(days: Days) -> Vec<Exact> {
    let days_of_change = [days.start, day("2020-07-15"), day("2021-10-01")];
    let within = days_of_change.into_iter().filter(|on| days.hold(*on));
    let mut rates: Vec<Exact> = within.filter_map(hospitality_rate).collect();
    rates.dedup();
    rates
}

/// The first day of the limited cost rule: SI 2017/295 reg 1.
pub fn goods_test_begins() -> Day {
    day("2017-04-01")
}

/// The limited cost percentage: VAT Regulations 1995 reg 55KA.
pub fn limited_cost_percentage() -> Exact {
    read("16.5")
}

/// The goods test's share of turnover: 2 per cent, VAT Regulations 1995 reg 55A(4).
pub fn goods_test_share() -> Exact {
    hundredths(2)
}

/// The goods test's amount for a year: VAT Regulations 1995 reg 55A(4).
pub fn goods_test_amount() -> Exact {
    whole(1000)
}

/// The point off in the first year of registration: VAT Regulations 1995 reg 55JB. Off the limited cost percentage too: common
/// practice, no source.
pub fn first_year_point() -> Exact {
    whole(1)
}

/// Capital goods are claimed from this value with VAT on: HMRC manual FRS6500 ("£2,000 or more"; reg 55E(1) says more than).
pub fn capital_goods_value() -> Exact {
    whole(2000)
}

/// Small exempt input tax, for each month: VAT Regulations 1995 regs 105A and 106.
pub fn de_minimis_a_month() -> Exact {
    whole(625)
}

/// Residual input tax a month up to which the percentage goes up to a whole one: VAT Regulations 1995 reg 101(4), (5).
pub fn large_residual_a_month() -> Exact {
    whole(400_000)
}

/// Input tax expected in the year up to which the annual test may be used: VAT Regulations 1995 reg 106ZA.
pub fn annual_test_input_tax() -> Exact {
    whole(1_000_000)
}

/// The share of a car's rental that is recovered where it is available for private use: Input Tax Order 1992 art 7; the half is
/// common practice, no source.
pub fn car_lease_share() -> Exact {
    Exact::new(1, 2)
}

/// A category whose percentage changed for a time: percentages to 14 July 2020 and from 1 April 2022; from 15 July 2020 (SI
/// 2020/728, Finance Act 2021 s 92); from 1 October 2021 (Finance Act 2021 s 93). Of the temporary ones only 4.5 was read in the
/// law; the others are common practice.
const FOR_A_TIME: [(&str, &str, &str, &str); 3] = [
    ("catering-services-including-restaurants-and-takeaways", "12.5", "4.5", "8.5"),
    ("hotel-or-accommodation", "10.5", "0", "5.5"),
    ("pubs", "6.5", "1", "4"),
];

/// The other categories: VAT Regulations 1995 reg 55K, Table, as in SI 2010/2940 reg 4; those of retailing not listed elsewhere
/// and wholesaling from HMRC manual FRS7200; membership, mining, packaging, photography, post offices, printing, publishing, real
/// estate, repairing, the other retailing, secretarial services and social work from common practice; sport, transport, travel
/// agency and veterinary medicine from memory.
const PERCENTAGES: [(&str, &str); 52] = [
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
    (HIRING, "9.5"),
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
    (TRANSPORT, "10"),
    ("travel-agency", "10.5"),
    ("veterinary-medicine", "11"),
    ("wholesaling-agricultural-products", "8"),
    ("wholesaling-food", "7.5"),
    ("wholesaling-not-listed-elsewhere", "8.5"),
];

/// The category in which goods for hire out are for the main activity, unless the line says otherwise.
pub const HIRING: &str = "hiring-or-renting-goods";

/// The category in which vehicles' fuel and parts may count as goods: VAT Regulations 1995 reg 55A(4).
pub const TRANSPORT: &str = "transport-or-storage-including-couriers-freight-removals-and-taxis";

/// The percentage of a category on a day.
pub fn category_percentage(category: &str, on: Day) -> Exact {
    if let Some((_, usual, first, second)) = FOR_A_TIME.iter().find(|row| row.0 == category) {
        if from_to(on, "2020-07-15", "2021-09-30") {
            return read(first);
        }
        return read(if from_to(on, "2021-10-01", "2022-03-31") { second } else { usual });
    }
    let row = PERCENTAGES.iter().find(|row| row.0 == category);
    row.map_or_else(|| panic!("no category {category}"), |(_, percentage)| read(percentage))
}

/// Every category.
pub fn categories() -> Vec<&'static str> {
    PERCENTAGES.iter().map(|row| row.0).chain(FOR_A_TIME.iter().map(|row| row.0)).collect()
}

/// Postponed imports of a flat rate user are worked out in periods that start on this day or later: Revenue and Customs Brief 3
/// (2022).
pub fn postponed_imports_begin() -> Day {
    day("2022-06-01")
}

/// Goods between Northern Ireland and the European Union have rules of their own from this day on: VATA 1994 Sch 9ZA.
pub fn northern_ireland_begins() -> Day {
    day("2021-01-01")
}
