#include "sci-circular.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define DAY 24.0

/* So few are put in order by looking at each pair; fewer in all than twice this are not worth buckets. */
#define FEW 32

static int
compare_hours (const void *pa, const void *pb)
{
  double a = *(const double *) pa, b = *(const double *) pb;

  return (a > b) - (a < b);
}

static void
insert_each (double *hours, size_t n)
{
  for (size_t i = 1; i < n; i++)
    {
      double hour = hours[i];
      size_t k = i;

      for (; k > 0 && hours[k - 1] > hour; k--)
        hours[k] = hours[k - 1];
      hours[k] = hour;
    }
}

static void
sort_bucket (double *hours, size_t n)
{
  if (n <= FEW)
    insert_each (hours, n);
  else
    qsort (hours, n, sizeof *hours, compare_hours);
}

static bool
is_in_order (const double *hours, size_t n)
{
  for (size_t i = 1; i < n; i++)
    if (hours[i] < hours[i - 1])
      return false;
  return true;
}

static size_t
find_bucket (double hour, size_t n)
{
  size_t bucket = (size_t) (hour / DAY * (double) n);

  return bucket < n ? bucket : n - 1;
}

/* As many buckets as hours; @ends has where each ends, and one before. */
static void
sort_by_buckets (double *hours, size_t n, double *copy, size_t *ends)
{
  memcpy (copy, hours, n * sizeof *hours);
  memset (ends, 0, (n + 1) * sizeof *ends);
  for (size_t i = 0; i < n; i++)
    ends[find_bucket (copy[i], n) + 1]++;
  for (size_t i = 0; i < n; i++)
    ends[i + 1] += ends[i];
  for (size_t i = 0; i < n; i++)
    hours[ends[find_bucket (copy[i], n)]++] = copy[i];
  for (size_t i = 0, from = 0; i < n; i++)
    {
      sort_bucket (hours + from, ends[i] - from);
      from = ends[i];
    }
}

void
sci_hours_sort (double *hours, size_t n)
{
  double *copy;
  size_t *ends;

  if (is_in_order (hours, n))
    return;
  copy = n > 2 * FEW ? malloc (n * sizeof *copy) : NULL;
  ends = n > 2 * FEW ? malloc ((n + 1) * sizeof *ends) : NULL;
  if (copy != NULL && ends != NULL)
    sort_by_buckets (hours, n, copy, ends);
  else
    sort_bucket (hours, n);
  free (copy);
  free (ends);
}
