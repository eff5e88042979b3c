// The messages that resolving and checking rules can give. docs/messages.md explains each.
#pragma once

#include "language/messages.h"
#include "slipcase/diagnostic.h"

namespace slipcase::rulebase {

// Files.
inline constexpr Message language_missing{"language-missing"};
inline constexpr Message other_unit{"other-unit"};
inline constexpr Message unit_line_missing{"unit-line-missing"};

// Names.
inline constexpr Message already_there{"already-there"};
inline constexpr Message unknown_name{"unknown-name"};
inline constexpr Message unknown_dimension{"unknown-dimension"};
inline constexpr Message which_one{"clear-which"};
inline constexpr Message wrong_kind{"wrong-kind"};
inline constexpr Message wrong_link_word{"wrong-link-word"};
inline constexpr Message taken_out{"taken-out"};
inline constexpr Message function_name{"function-name"};

// Layers.
inline constexpr Message revise_finds_nothing{"revise-finds-nothing"};
inline constexpr Message revised_twice{"revised-twice"};
inline constexpr Message remove_finds_nothing{"remove-finds-nothing"};
inline constexpr Message not_for_one_member{"not-for-one-member"};

// Clauses.
inline constexpr Message clause_not_here{"clause-not-here"};
inline constexpr Message clause_twice{"clause-twice"};
inline constexpr Message clause_missing{"clause-missing"};
inline constexpr Message inside_not_asked{"inside-not-asked"};
inline constexpr Message placeholder_unknown{"placeholder-unknown"};
inline constexpr Message named_twice{"named-twice"};
inline constexpr Message grade_conditions{"grade-conditions"};
inline constexpr Message too_few_alternatives{"too-few-alternatives"};

// Scopes and members.
inline constexpr Message unknown_scope{"unknown-scope"};
inline constexpr Message unknown_member{"unknown-member"};
inline constexpr Message unknown_mark{"unknown-mark"};
inline constexpr Message unknown_relation{"unknown-relation"};
inline constexpr Message wrong_scope{"wrong-scope"};
inline constexpr Message no_members{"no-members"};
inline constexpr Message which_member{"which-member"};
inline constexpr Message all_or_each{"all-or-each"};
inline constexpr Message each_in_condition{"each-in-condition"};
inline constexpr Message amount_out_of_range{"amount-out-of-range"};

// Counts and numbers.
inline constexpr Message impossible_count{"impossible-count"};
inline constexpr Message unknown_grade{"unknown-grade"};
using language::grade_or_more;
inline constexpr Message stronger_is_larger{"stronger-is-larger"};
inline constexpr Message together_alone{"together-alone"};
inline constexpr Message impossible_number{"impossible-number"};
inline constexpr Message two_rates{"two-rates"};
inline constexpr Message good_counts_differ{"good-counts-differ"};

// Values and conditions.
inline constexpr Message unknown_unit{"unknown-unit"};
inline constexpr Message wrong_dimension{"wrong-dimension"};
inline constexpr Message share_in_percent{"share-in-percent"};
inline constexpr Message wrong_chain{"wrong-chain"};
inline constexpr Message not_a_condition{"not-a-condition"};
inline constexpr Message not_a_value{"not-a-value"};
inline constexpr Message unknown_word{"unknown-choice"};
inline constexpr Message unknown_code{"unknown-code"};
inline constexpr Message counts_it_twice{"counts-it-twice"};

// The rule base as a whole.
inline constexpr Message goes_in_a_circle{"goes-in-a-circle"};
inline constexpr Message reached_twice{"reached-twice"};
inline constexpr Message distrust_all{"distrust-all"};
inline constexpr Message trial_shape{"trial-shape"};

// Warnings: valid rules that may not mean what they seem to.
inline constexpr Message flags_adds_up{"flags-adds-up", Severity::warning};
inline constexpr Message many_witnesses{"many-witnesses", Severity::warning};
inline constexpr Message fewer_than_otherwise{"fewer-than-otherwise", Severity::warning};
inline constexpr Message raised_twice{"raised-twice", Severity::warning};
inline constexpr Message every_time{"every-time", Severity::warning};
inline constexpr Message shows_nothing{"shows-nothing", Severity::warning};
inline constexpr Message nothing_leads_here{"nothing-leads-here", Severity::warning};
inline constexpr Message question_unused{"question-unused", Severity::warning};
inline constexpr Message same_reading_twice{"same-reading-twice", Severity::warning};
inline constexpr Message cures_nothing{"cures-nothing", Severity::warning};
inline constexpr Message not_cured{"not-cured", Severity::warning};
inline constexpr Message cannot_be_told_apart{"cannot-be-told-apart", Severity::warning};
inline constexpr Message never_holds{"never-holds", Severity::warning};
inline constexpr Message always_holds{"always-holds", Severity::warning};
inline constexpr Message empty_selection{"empty-selection", Severity::warning};
inline constexpr Message layer_says_nothing{"layer-says-nothing", Severity::warning};
inline constexpr Message removed_twice{"removed-twice", Severity::warning};
inline constexpr Message trial_named_twice{"trial-named-twice", Severity::warning};
inline constexpr Message group_alone{"group-alone", Severity::warning};
inline constexpr Message not_tried{"not-tried", Severity::warning};

}  // namespace slipcase::rulebase
