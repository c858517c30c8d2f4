/* The strip of stations through time, drawn of a pass. */
#pragma once

#include "tpt-figure.h"
#include "tpt-pass-private.h"

G_BEGIN_DECLS

/**
 * TptStripSet: what a strip shows.
 * @pass: where the effort is from
 * @detections: (element-type TptDetection): of it, to show
 * @label: what it is beside the other of two
 */
typedef struct {
  TptPass *pass;
  GArray *detections;
  const char *label;
} TptStripSet;

/**
 * tpt_findings_strip_new:
 * @set: gives the axis and, with @second, the rows; both of the same stations
 * @second: (nullable): shown beside it in the same rows. Of another period, it is moved so that the two periods
 *   begin together
 * @named: rows carry the stations' names and codes, and ticks the species; else rows have numbers by their order
 *
 * A station that neither worked nor saw anything has no row. No caption.
 */
TptFigure *tpt_findings_strip_new (const TptStripSet *set, const TptStripSet *second, gboolean named);

G_END_DECLS
