/* Stations through time: effort as bars, detections as ticks in front of it.
 *
 * A stretch that was worked shows as a bar whether or not anything was seen; a
 * stretch that a rig stood there and did not work as a dotted line; one without
 * a rig as nothing. Rows whose key is not among the chosen ones of the style recede. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

/* @range is the axis; what lies outside is neither drawn nor in the table. */
TptFigure *tpt_strip_new (TptRange range, TptZone *zone);

/* Two sets of detections set against each other, two species or two periods: those of the
 * first stand above the middle of a row, those of the second below it and in another colour.
 * @first and @second name them in a legend and in words. */
TptFigure *tpt_strip_new_pair (TptRange range, TptZone *zone, const char *first, const char *second);

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

/* The effort of the second set of a pair, where it has its own, as another period has: bars
 * then lie above and below the middle. @worked is on the axis; @means is when it was. */
void tpt_strip_add_second_effort (TptFigure *figure, int row, TptRange worked, TptRange means);

/* A stretch that a rig did not work, and why, in a few words: "found dead". */
void tpt_strip_add_gap (TptFigure *figure, int row, TptRange range, const char *why);

/* @what is the species as it should be read; @count animals, 0 for not counted. */
void tpt_strip_add_detection (TptFigure *figure, int row, TptInstant at, const char *what, int count);

/**
 * TptStripSighting: a detection that knows what it is of and when it was.
 * @at: where it stands on the axis
 * @when: from its first frame to just after its last: what a hit tells; starts at @at unless
 *   it is of another period, moved onto the axis
 * @what: the species as it should be read
 * @key: (nullable): what the caller knows the species by; the item key of a hit
 * @count: animals, 0 for not counted
 * @second: of the second set of a pair
 */
typedef struct {
  TptInstant at;
  TptRange when;
  const char *what;
  const char *key;
  int count;
  gboolean second;
} TptStripSighting;

/* Copies. */
void tpt_strip_add_sighting (TptFigure *figure, int row, const TptStripSighting *sighting);

G_END_DECLS
