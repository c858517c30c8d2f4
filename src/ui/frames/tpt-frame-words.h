/* A frame in words, for the window. All (transfer full). */
#pragma once

#include "tpt-frame-item.h"

G_BEGIN_DECLS

/* "12 June 2026 03:12:05"; "time unknown". */
char *tpt_frame_words_time (const TptFrameRow *row, TptZone *zone);

/* "12 Jun 03:12", for where there is little room; "time unknown". */
char *tpt_frame_words_short_time (const TptFrameRow *row, TptZone *zone);

/* "probably empty: 0.93"; %NULL without a score. */
char *tpt_frame_words_score (double score);

/* From here on a trigger is called probably empty. */
#define TPT_PROBABLY_EMPTY 0.8

/* "Night, 21 °C, flash fired"; %NULL when nothing is known. */
char *tpt_frame_words_light (const TptFrameRow *row);

/* What the camera's clock showed and how the time came about, for a tooltip. */
char *tpt_frame_words_clock (const TptFrameRow *row);

/* (nullable): "sure", "probable", "maybe", or a number such as "0.62" between them. */
char *tpt_frame_words_certainty (double certainty);

/* What an observation says with who said it: "2 lesser mouse-deer, female (Ana, sure)". */
char *tpt_frame_words_seen (const TptSeen *seen);

G_END_DECLS
