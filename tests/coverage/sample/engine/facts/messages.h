// A made-up tree with one mistake of each kind; the check of messages must name each.
inline constexpr Message shown_in_case{"shown-in-case", Severity::error};
inline constexpr Message not_in_page{"not-in-page", Severity::error};
inline constexpr Message a_rather_long_name_that_breaks_the_line{"cannot-happen", Severity::warning};
inline constexpr Message never_shown{"never-shown"};
inline constexpr Message twice{"shown-in-case"};
inline constexpr Message in_order{"in-order"};
