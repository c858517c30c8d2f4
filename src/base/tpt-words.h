/* Numbers and dates as people read them, and numbers as machines do. */
#pragma once

#include <glib.h>

#include "tpt-time.h"

G_BEGIN_DECLS

/* (transfer none): @month 1 to 12. */
const char *tpt_words_month (int month);
const char *tpt_words_month_short (int month);

/* (transfer full): @text as a message quotes it: valid UTF-8, at most some 40
 * letters, and "…" where there was more. */
char *tpt_words_shorten (const char *text);

/* All (transfer full): "14 March 2026", "14 March 2026 21:04", "1 to 12 June 2026". */
char *tpt_words_date (TptInstant instant, TptZone *zone);
char *tpt_words_instant (TptInstant instant, TptZone *zone);
char *tpt_words_period (TptRange range, TptZone *zone);

/* (transfer full): "14 March 2026 21:04:30" */
char *tpt_words_second (TptInstant instant, TptZone *zone);

/* (transfer full): what a clock showed, in the words of a moment. */
char *tpt_words_reading (TptReading reading, gboolean seconds);

/* (transfer full): "4,218", "31.5" below 100, "1.49" below 10. */
char *tpt_words_number (double number);

/* (transfer full): as many decimals whether they are zero or not. */
char *tpt_words_rate (double rate);

/* (transfer full): a chance as a test gives it: "p = 0.31", "p = 0.012", "p < 0.001"; @p not NAN. */
char *tpt_words_chance (double p);

/* (transfer full): an hour of the day to the minute, "07:10"; 24 is "00:00". @hour not NAN. */
char *tpt_words_hour (double hour);

/* (transfer full): "14 June", with its year when that is not the year of @now. */
char *tpt_words_day (TptInstant instant, TptZone *zone, TptInstant now);

/* (transfer full): "3 to 10 June", "28 May to 4 June"; both days are meant. */
char *tpt_words_days (TptInstant from, TptInstant to, TptZone *zone, TptInstant now);

G_END_DECLS
