/* Trap nights: when a camera worked, when it did not, and how long.
 *
 * The choice made: a trap night is 24 h of elapsed working time and fractions
 * count. Midnights passed and dates touched, the other definitions in use,
 * differ by up to one per deployment and depend on where a deployment is cut;
 * this one does not. Time is summed in whole milliseconds, so that sums are
 * exact and cutting a deployment in two changes nothing at all.
 */
#pragma once

#include <stddef.h>
#include <stdint.h>

#define SCI_MS_PER_NIGHT INT64_C (86400000)

/* Half-open span of instants, from <= t < to, in ms. Empty when to <= from.
 * INT64_MIN and INT64_MAX stand for open ends. */
typedef struct {
  int64_t from;
  int64_t to;
} SciSpan;

/* The part of one span inside another.
 *
 * Given:
 *   a, b  SciSpan
 *
 * Returned:
 *   their common part; empty (to <= from) when they have none
 */
SciSpan sci_span_clip (SciSpan a, SciSpan b);

/* Unite spans in place.
 *
 * Given:
 *   spans  SciSpan[n]  in any order; may overlap, touch or be empty
 *   n      size_t
 *
 * Returned:
 *   spans  SciSpan[]   ascending, disjoint, not touching, none empty
 *   how many are left
 */
size_t sci_spans_unite (SciSpan *spans, size_t n);

/* Working spans of one deployment within a period.
 *
 * Given:
 *   deployment  SciSpan     set out to brought in
 *   period      SciSpan     what is asked about; both ends may be open
 *   outages     SciSpan[n]  united by sci_spans_unite(); may stick out of the
 *                           deployment
 *   n           size_t
 *
 * Returned:
 *   working     SciSpan[]   ascending, disjoint; room for n + 1 is needed
 *   how many were written
 */
size_t sci_effort_working (SciSpan deployment,
                           SciSpan period,
                           const SciSpan *outages,
                           size_t n,
                           SciSpan *working);

/* Gaps of one deployment within a period: the complement of the above.
 *
 * Given:
 *   as for sci_effort_working()
 *
 * Returned:
 *   gaps  SciSpan[]  the outages cut to deployment and period, ascending;
 *                    room for n is needed
 *   how many were written
 */
size_t sci_effort_gaps (SciSpan deployment,
                        SciSpan period,
                        const SciSpan *outages,
                        size_t n,
                        SciSpan *gaps);

/* Total length.
 *
 * Given:
 *   spans  SciSpan[n]  disjoint (overlaps would count twice), ends not open
 *
 * Returned:
 *   ms, exact
 */
int64_t sci_spans_total (const SciSpan *spans, size_t n);

/* Length per bin, such as months.
 *
 * Given:
 *   spans    SciSpan[n]        disjoint, in any order
 *   edges    int64_t[n_edges]  bin edges, ms, ascending; bin i is
 *                              edges[i] <= t < edges[i + 1]
 *   n_edges  size_t            at least 2, else nothing is done
 *
 * Returned:
 *   ms       int64_t[n_edges - 1]  the length in each bin is *added* to what
 *                                  is there, so that deployments can be summed;
 *                                  the caller starts with zeros
 */
void sci_spans_add_to_bins (const SciSpan *spans,
                            size_t n,
                            const int64_t *edges,
                            size_t n_edges,
                            int64_t *ms);

/* Trap nights of a length.
 *
 * Given:
 *   ms  int64_t  working time
 *
 * Returned:
 *   24-h days, with fraction
 */
double sci_nights (int64_t ms);
