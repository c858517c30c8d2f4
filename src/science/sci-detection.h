/* Independent detections among the records of one species at one station. */
#pragma once

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* What the gap is measured from: the last frame of the earlier records of the
 * group, or the start of the detection in progress. */
typedef enum {
  SCI_GAP_FROM_LAST,
  SCI_GAP_FROM_FIRST,
} SciGapFrom;

/* Number the detections of one group.
 *
 * Given:
 *   start_ms    int64_t[n]  start of each record, ms, ascending (ties allowed)
 *   end_ms      int64_t[n]  last frame of each record, ms; NULL when records
 *                           have no length; an end before its start counts as
 *                           the start
 *   n           size_t      records; 0 allowed
 *   min_gap_ms  int64_t     independence interval, ms; 0 or less makes every
 *                           record a detection of its own
 *   from        SciGapFrom  what the gap is measured from
 *   strict      bool        false: a gap of exactly min_gap_ms separates (the
 *                           usual convention); true: it does not
 *
 * Returned:
 *   detection   size_t[n]   number of each record's detection, from 0 upwards
 *                           in time; may be NULL
 *   the number of detections
 *
 * Notes:
 *   The last frame so far is the latest end of all earlier records of the
 *   group, so a long record that covers short ones keeps its end. Records out
 *   of order are a fault of the caller (assert). Instants must lie within
 *   +-2^62 ms, so that no difference overflows.
 *   SCI_GAP_FROM_FIRST never gives fewer detections than SCI_GAP_FROM_LAST.
 *
 * References:
 *   O'Brien, Kinnaird & Wibisono 2003, Anim. Conserv. 6:131-139, for the half
 *   hour (from memory).
 */
size_t sci_detections (const int64_t *start_ms,
                       const int64_t *end_ms,
                       size_t n,
                       int64_t min_gap_ms,
                       SciGapFrom from,
                       bool strict,
                       size_t *detection);
