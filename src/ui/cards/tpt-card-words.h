/* What is said of a card. All (transfer full) unless it says otherwise. */
#pragma once

#include "tpt-card.h"

G_BEGIN_DECLS

/* "1 picture is cut off or damaged and 1 file cannot be read on the card itself. …";
 * %NULL when every file of a card that was taken in is sound. */
char *tpt_card_words_flaws (TptCard *card);

/* How far it is, in a few words, and (transfer none) the icon for that. */
char *tpt_card_words_state (TptCard *card);
const char *tpt_card_words_icon (TptCard *card);

/* "1,234 frames, 12 of them clips; 3.4 GB", "From 3 March 2026 …", the cameras, a line each. */
char *tpt_card_words_found (TptCard *card);

/* "Otter bank, since 3 March 2026", "Otter bank, 3 March 2026 to 1 June 2026" */
char *tpt_card_words_match (const TptSurveyMatch *match, TptZone *zone);

/* One frame of a step, before and after it. */
char *tpt_card_words_example (const TptClockStep *step, TptZone *zone);

/* What a step has done, and one frame before and after it. */
char *tpt_card_words_done (const TptClockStep *step, TptZone *zone);

/* What came of a card that was taken in, a line each, without doubts and files
 * set aside. */
char *tpt_card_words_taken (TptCard *card);

G_END_DECLS
