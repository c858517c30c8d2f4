#include "sci-effort.h"

#include <stdbool.h>
#include <stdlib.h>

static bool
is_empty (SciSpan span)
{
  return span.to <= span.from;
}

static int
compare_spans (const void *pa, const void *pb)
{
  const SciSpan *a = pa, *b = pb;

  if (a->from != b->from)
    return a->from < b->from ? -1 : 1;
  return (a->to > b->to) - (a->to < b->to);
}

SciSpan
sci_span_clip (SciSpan a, SciSpan b)
{
  return (SciSpan) {
    .from = a.from > b.from ? a.from : b.from,
    .to = a.to < b.to ? a.to : b.to,
  };
}

size_t
sci_spans_unite (SciSpan *spans, size_t n)
{
  size_t kept = 0;

  if (n > 1)
    qsort (spans, n, sizeof *spans, compare_spans);
  for (size_t i = 0; i < n; i++)
    {
      if (is_empty (spans[i]))
        continue;
      if (kept == 0 || spans[i].from > spans[kept - 1].to)
        spans[kept++] = spans[i];
      else if (spans[i].to > spans[kept - 1].to)
        spans[kept - 1].to = spans[i].to;
    }
  return kept;
}

size_t
sci_effort_working (SciSpan deployment,
                    SciSpan period,
                    const SciSpan *outages,
                    size_t n,
                    SciSpan *working)
{
  SciSpan rest = sci_span_clip (deployment, period);
  size_t count = 0;

  for (size_t i = 0; i < n && !is_empty (rest); i++)
    {
      SciSpan before = { rest.from, outages[i].from < rest.to ? outages[i].from : rest.to };

      if (!is_empty (before))
        working[count++] = before;
      if (outages[i].to > rest.from)
        rest.from = outages[i].to;
    }
  if (!is_empty (rest))
    working[count++] = rest;
  return count;
}

size_t
sci_effort_gaps (SciSpan deployment,
                 SciSpan period,
                 const SciSpan *outages,
                 size_t n,
                 SciSpan *gaps)
{
  SciSpan whole = sci_span_clip (deployment, period);
  size_t count = 0;

  for (size_t i = 0; i < n; i++)
    {
      SciSpan gap = sci_span_clip (whole, outages[i]);

      if (!is_empty (gap))
        gaps[count++] = gap;
    }
  return count;
}

int64_t
sci_spans_total (const SciSpan *spans, size_t n)
{
  int64_t total = 0;

  for (size_t i = 0; i < n; i++)
    if (!is_empty (spans[i]))
      total += spans[i].to - spans[i].from;
  return total;
}

/* The first bin that ends after @instant. */
static size_t
find_bin (const int64_t *edges, size_t n_edges, int64_t instant)
{
  size_t low = 0, high = n_edges - 1;

  while (low < high)
    {
      size_t middle = (low + high) / 2;

      if (edges[middle + 1] > instant)
        high = middle;
      else
        low = middle + 1;
    }
  return low;
}

void
sci_spans_add_to_bins (const SciSpan *spans,
                       size_t n,
                       const int64_t *edges,
                       size_t n_edges,
                       int64_t *ms)
{
  if (n_edges < 2)
    return;
  for (size_t i = 0; i < n; i++)
    for (size_t bin = find_bin (edges, n_edges, spans[i].from);
         bin + 1 < n_edges && edges[bin] < spans[i].to;
         bin++)
      {
        SciSpan part = sci_span_clip (spans[i], (SciSpan) { edges[bin], edges[bin + 1] });

        if (!is_empty (part))
          ms[bin] += part.to - part.from;
      }
}

double
sci_nights (int64_t ms)
{
  return (double) ms / (double) SCI_MS_PER_NIGHT;
}
