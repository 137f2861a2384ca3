//! What would turn the outcome of a de minimis test, in a sentence.

use crate::money::{Money, Overflow, Percentage, Ratio, Rounding};

/// Said where the main test has no fraction.
pub(super) const WITHOUT_FRACTION: &str = "It cannot be formed: the supplies give no fraction by which residual input tax could be shared. Supplies, or the percentage of \
                                           the year before, would form it.";

/// The largest exempt share that passes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Share(pub Percentage);

impl Share {
    /// The share over what is left of a hundred: a half is one to one.
    fn odds(self) -> Result<Ratio, Overflow> {
        Ratio::new(self.0.hundredths(), 10_000 - self.0.hundredths())
    }

    /// How much an exempt part can grow, and the whole with it, before it passes its share; negative where it must shrink.
    fn room(self, part: Money, whole: Money) -> Result<Money, Overflow> {
        let most = whole.minus(part)?.exact().times(self.odds()?)?.to_money(Rounding::DownToPenny)?;
        most.minus(part)
    }

    /// How much the rest of the whole must grow for the exempt part to be within its share.
    fn rest_needed(self, part: Money, rest: Money) -> Result<Money, Overflow> {
        let odds = Ratio::new(10_000 - self.0.hundredths(), self.0.hundredths())?;
        part.exact().times(odds)?.to_money(Rounding::UpToPenny)?.minus(rest)
    }
}

/// A simplified test: its money and its share of supplies turn apart from each other.
pub(super) fn of_simplified(
    what: &str,
    headroom: Money,
    share: Share,
    taxable: Money,
    exempt: Money,
) -> Result<String, Overflow> {
    let room = share.room(exempt, taxable.plus(exempt)?)?;
    if !headroom.is_negative() && !room.is_negative() {
        return Ok(format!(
            "Passed. It would still pass with {} {what}, and with {} exempt supplies beside the same taxable supplies.",
            up_to(headroom),
            up_to(room)
        ));
    }
    let mut needed = Vec::with_capacity(2);
    if headroom.is_negative() {
        needed.push(format!("£{} less {what}", headroom.magnitude()));
    }
    if room.is_negative() && room.magnitude() <= exempt {
        needed.push(format!("£{} less exempt supplies beside the same taxable supplies", room.magnitude()));
    } else if room.is_negative() {
        needed.push(format!("£{} more taxable supplies", share.rest_needed(exempt, taxable)?));
    }
    Ok(format!("Failed. It would pass with {}.", needed.join(" and with ")))
}

/// The main test. Less input tax of exempt supplies makes all input tax less too; where there is not so much of it, all input tax is
/// taken to stay as it is.
pub(super) fn of_main(
    (headroom, part_headroom): (Money, Money),
    share: Share,
    (exempt_input_tax, all_input_tax): (Money, Money),
    used_for_exempt: Money,
) -> Result<String, Overflow> {
    let room = headroom.min(share.room(exempt_input_tax, all_input_tax)?);
    Ok(if !room.is_negative() {
        format!("Passed. It would still pass with {} input tax used for exempt supplies.", up_to(room))
    } else if room.magnitude() <= used_for_exempt {
        format!("Failed. It would pass with £{} less input tax used for exempt supplies.", room.magnitude())
    } else {
        let lower = headroom.min(part_headroom).magnitude();
        format!(
            "Failed. It would pass if exempt input tax were £{lower} lower and all input tax the same: by use, or by a higher percentage for residual \
             input tax."
        )
    })
}

fn up_to(amount: Money) -> String {
    if amount.is_zero() { "no more".to_owned() } else { format!("up to £{amount} more") }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(text: &str) -> Money {
        text.parse().expect("an amount")
    }

    fn half() -> Share {
        Share("50".parse().expect("a percentage"))
    }

    #[test]
    fn a_simplified_test_turns_on_money_and_on_supplies() {
        let of = |headroom, taxable, exempt| {
            of_simplified("input tax", money(headroom), half(), money(taxable), money(exempt)).expect("a sentence")
        };
        assert_eq!(
            of("75.00", "30000.00", "10000.00"),
            "Passed. It would still pass with up to £75.00 more input tax, and with up to £20000.00 more exempt supplies beside the same \
             taxable supplies."
        );
        assert!(of("0.00", "1.00", "1.00").contains("no more input tax, and with no more exempt supplies"));
        assert_eq!(of("-0.01", "30000.00", "10000.00"), "Failed. It would pass with £0.01 less input tax.");
        assert_eq!(
            of("-5.00", "15000.00", "25000.00"),
            "Failed. It would pass with £5.00 less input tax and with £10000.00 less exempt supplies beside the same taxable supplies."
        );
        // Taxable supplies below nought, by credits: no exempt supplies are small enough.
        assert_eq!(of("5.00", "-1.00", "25.00"), "Failed. It would pass with £26.00 more taxable supplies.");
    }

    #[test]
    fn the_main_test_turns_on_the_nearer_of_its_limits() {
        let of = |headroom, part, all, used| {
            let part_headroom = money(all).exact().times(Ratio::new(1, 2).expect("a half")).expect("fits");
            let part_headroom =
                part_headroom.to_money(Rounding::DownToPenny).expect("fits").minus(money(part)).expect("fits");
            of_main((money(headroom), part_headroom), half(), (money(part), money(all)), money(used))
                .expect("a sentence")
        };
        assert!(of("375.00", "1500.00", "20000.00", "1500.00").contains("up to £375.00 more"));
        // Half of all input tax is nearer: £1 more of exempt input tax makes the whole £1 more too.
        assert!(of("375.00", "1500.00", "3001.00", "1500.00").contains("up to £1.00 more"));
        assert!(of("-1.00", "1876.00", "21876.00", "1876.00").contains("with £1.00 less input tax used for exempt"));
        assert!(of("603.00", "1272.00", "1600.00", "944.00").contains("with £944.00 less input tax used for exempt"));
        assert!(of("603.00", "1272.00", "1600.00", "943.99").contains("were £472.00 lower and all input tax the same"));
    }
}
