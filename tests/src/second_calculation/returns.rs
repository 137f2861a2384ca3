//! The nine boxes (VAT Regulations 1995 reg 39; VAT Notice 700/12).

use super::money::{Exact, cut_off_pence, pounds_text, whole, whole_pounds_text};
use serde_json::{Value, json};

/// The boxes that others do not follow from, in pounds and pence.
#[derive(Clone, Debug)]
pub struct Boxes {
    /// Box 1.
    pub one: Exact,
    /// Box 2.
    pub two: Exact,
    /// Box 4.
    pub four: Exact,
    /// Box 6.
    pub six: Exact,
    /// Box 7.
    pub seven: Exact,
    /// Box 8.
    pub eight: Exact,
    /// Box 9.
    pub nine: Exact,
}

impl Boxes {
    /// An empty return.
    pub fn empty() -> Boxes {
        let zero = whole(0);
        Boxes { one: zero, two: zero, four: zero, six: zero, seven: zero, eight: zero, nine: zero }
    }

    /// Box 3.
    pub fn three(&self) -> Exact {
        self.one + self.two
    }

    /// Box 3 less box 4: what is payable, or repaid where it is negative.
    pub fn payable(&self) -> Exact {
        self.three() - self.four
    }

    /// As an answer shows them.
    pub fn shown(&self) -> Value {
        let payable = self.payable();
        let five = if payable < whole(0) { -payable } else { payable };
        let pounds = |value: Exact| whole_pounds_text(cut_off_pence(value));
        json!({
            "box1": pounds_text(self.one),
            "box2": pounds_text(self.two),
            "box3": pounds_text(self.three()),
            "box4": pounds_text(self.four),
            "box5": pounds_text(five),
            "box6": pounds(self.six),
            "box7": pounds(self.seven),
            "box8": pounds(self.eight),
            "box9": pounds(self.nine),
        })
    }
}
