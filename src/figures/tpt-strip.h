/* Stations through time: effort as bars, detections as ticks in front of it.
 *
 * A stretch that was worked shows as a bar whether or not anything was seen; a
 * stretch that a rig stood there and did not work as a dotted line; one without
 * a rig as nothing. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

/* @range is the axis; what lies outside is neither drawn nor in the table. */
TptFigure *tpt_strip_new (TptRange range, TptZone *zone);

/**
 * tpt_strip_add_row:
 * @label: the station
 * @key: (nullable): what the caller knows it by; comes back in TptHit
 * @trap_nights: its effort in the range; NAN adds up the bars
 *
 * Returns: the row, from 0
 */
int tpt_strip_add_row (TptFigure *figure, const char *label, const char *key, double trap_nights);

/* A stretch of work; an open end is cut at the axis. */
void tpt_strip_add_effort (TptFigure *figure, int row, TptRange worked);

/* A stretch that a rig did not work, and why, in a few words: "found dead". */
void tpt_strip_add_gap (TptFigure *figure, int row, TptRange range, const char *why);

/* @what is the species as it should be read; @count animals, 0 for not counted. */
void tpt_strip_add_detection (TptFigure *figure, int row, TptInstant at, const char *what, int count);

G_END_DECLS
