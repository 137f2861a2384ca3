//! The calculation as its caller has it, each file a part of the law. One program, so that it is linked once.

mod adjustments;
mod both_returns;
mod boundaries;
mod cash_accounting;
mod cash_method;
mod categories;
mod category_choice;
mod contract;
mod due_dates;
mod due_dates_notices;
mod evidence;
mod fuel_scale_charges;
mod goods_test;
mod goods_test_alone;
mod invoices;
mod lines;
mod northern_ireland;
mod part_of_period;
mod partial_exemption;
mod partial_exemption_year;
mod properties;
mod relief_and_unpaid;
mod support;
mod thresholds;
