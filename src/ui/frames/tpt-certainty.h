/* Three words for how certain somebody is, and the numbers that are kept.
 *
 * Common practice, no source: a number says how often such a word would be
 * right. Sure is 0.95, as nobody is right always; probable 0.75, the middle
 * of 'more likely than not'; maybe 0.5, as good as not knowing. A number that
 * came from elsewhere and is none of these is kept and shown as it is.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define TPT_CERTAINTY_SURE 0.95
#define TPT_CERTAINTY_PROBABLE 0.75
#define TPT_CERTAINTY_MAYBE 0.5

/* (nullable) (transfer none): %NULL for any other number. */
const char *tpt_certainty_get_code (double certainty);
const char *tpt_certainty_get_word (double certainty);

/* NAN for %NULL. */
double tpt_certainty_from_code (const char *code);

G_END_DECLS
