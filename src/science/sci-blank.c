#include "sci-blank.h"

#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "sci-blobs.h"

/* How many of the other pictures make the background. */
#define VIEWS 16
/* Grey levels: what two pictures of the same differ by at least. */
#define LEAST_NOISE 1.5
/* Pixels the camera may have moved by. */
#define SHIFT 0.35
/* Deviations that count, at most. */
#define CLIP 5.0
/* Classes of spread whose stir is told apart. */
#define CLASSES 4
#define LEAST_STIR 0.5
/* Of a normal deviation: the median of its size. */
#define MEDIAN_SIZE 0.6745
#define GREY_BELOW 3.5
#define HALF_AT 42.0

/* Room for one frame's work, all in one piece of memory. */
typedef struct {
  int width, height, n; /* n = width * height */
  float *blocks, *other_blocks;
  float *views; /* VIEWS pictures */
  float *here, *middle, *spread, *sizes, *order;
  float *memory;
} Work;

/* Another picture with the light that turns it into this one. */
typedef struct {
  const unsigned char *grey;
  SciLight light;
  int place;
} Candidate;

static bool
set_up_work (Work *work, int width, int height)
{
  size_t n = (size_t) width * (size_t) height;

  *work = (Work){ .width = width, .height = height, .n = (int) n };
  work->memory = malloc ((VIEWS + 7) * n * sizeof *work->memory);
  if (work->memory == NULL)
    return false;
  work->blocks = work->memory;
  work->other_blocks = work->blocks + n;
  work->here = work->other_blocks + n;
  work->middle = work->here + n;
  work->spread = work->middle + n;
  work->sizes = work->spread + n;
  work->order = work->sizes + n;
  work->views = work->order + n;
  return true;
}

static int
compare_candidates_cb (const void *a, const void *b)
{
  const Candidate *x = a, *y = b;
  int order = (x->light.misfit > y->light.misfit) - (x->light.misfit < y->light.misfit);

  return order != 0 ? order : x->place - y->place;
}

static int
compare_floats_cb (const void *a, const void *b)
{
  float x = *(const float *) a, y = *(const float *) b;

  return (x > y) - (x < y);
}

/* Others in this frame's light, the most alike first. */
static int
rank_others (Work *work, const unsigned char *const *others, int n_others, Candidate *candidates)
{
  int columns = work->width / SCI_BLOCK, rows = work->height / SCI_BLOCK, n = 0;

  for (int i = 0; i < n_others && i < SCI_OTHERS_MOST; i++)
    {
      candidates[n].grey = others[i];
      candidates[n].place = i;
      sci_picture_blocks (others[i], work->width, work->height, work->other_blocks);
      if (sci_light_fit (work->other_blocks, work->blocks, columns, rows, &candidates[n].light))
        n++;
    }
  qsort (candidates, (size_t) n, sizeof *candidates, compare_candidates_cb);
  return n;
}

static void
lay_views (Work *work, const Candidate *candidates, int n)
{
  const float *views[VIEWS];

  for (int i = 0; i < n; i++)
    {
      float *view = work->views + (size_t) i * (size_t) work->n;

      sci_picture_smooth (candidates[i].grey, work->width, work->height, view);
      sci_light_apply (&candidates[i].light, work->width, work->height, view);
      views[i] = view;
    }
  sci_background_median (views, n, work->n, work->middle, work->spread);
}

static double
steepness (const float *picture, int width, int height, int x, int y)
{
  const float *here = picture + y * width + x;
  double across = ((double) here[x + 1 < width ? 1 : 0] - (double) here[x > 0 ? -1 : 0]) / 2;
  double down = ((double) here[y + 1 < height ? width : 0] - (double) here[y > 0 ? -width : 0]) / 2;

  return across * across + down * down;
}

/* Joins the spread with noise and the camera's own movement. */
static void
widen_spread (Work *work)
{
  double noise;

  memcpy (work->order, work->spread, (size_t) work->n * sizeof *work->order);
  noise = fmax (LEAST_NOISE, sci_median (work->order, work->n));
  for (int i = 0; i < work->n; i++)
    {
      double slope = steepness (work->middle, work->width, work->height, i % work->width, i / work->width);
      double spread = (double) work->spread[i];

      work->spread[i] = (float) sqrt (spread * spread + noise * noise + SHIFT * SHIFT * slope);
    }
}

/* How much pixels stir whose spread lies above @low, up to @high. */
static double
measure_stir (Work *work, float low, float high)
{
  int n = 0;

  for (int i = 0; i < work->n; i++)
    if (work->spread[i] > low && work->spread[i] <= high)
      work->order[n++] = work->sizes[i];
  return n > 0 ? fmax (LEAST_STIR, sci_median (work->order, n) / MEDIAN_SIZE) : 1;
}

static void
find_bounds (Work *work, float *bounds)
{
  memcpy (work->order, work->spread, (size_t) work->n * sizeof *work->order);
  qsort (work->order, (size_t) work->n, sizeof *work->order, compare_floats_cb);
  bounds[0] = -1;
  for (int k = 1; k < CLASSES; k++)
    bounds[k] = work->order[(size_t) work->n * (size_t) k / CLASSES];
  bounds[CLASSES] = INFINITY;
}

/* How many deviations brighter than the background, negative where darker, with
 * what stirs anyhow taken out: in @here. */
static void
find_deviations (Work *work)
{
  float bounds[CLASSES + 1];
  double stir[CLASSES];

  for (int i = 0; i < work->n; i++)
    {
      work->here[i] = (work->here[i] - work->middle[i]) / work->spread[i];
      work->sizes[i] = fabsf (work->here[i]);
    }
  find_bounds (work, bounds);
  for (int k = 0; k < CLASSES; k++)
    stir[k] = measure_stir (work, bounds[k], bounds[k + 1]);
  for (int i = 0; i < work->n; i++)
    {
      int k = 0;

      while (k + 1 < CLASSES && work->spread[i] > bounds[k + 1])
        k++;
      work->here[i] = (float) ((double) work->here[i] / stir[k]);
    }
}

/* The largest patch that is brighter (@sign 1) or darker (-1). */
static double
measure_patch (Work *work, int sign)
{
  for (int i = 0; i < work->n; i++)
    work->sizes[i] = (float) fmin (CLIP, fmax (0, sign * (double) work->here[i]));
  return sci_blobs_measure (work->sizes, work->width, work->height);
}

static double
measure_frame (Work *work, const unsigned char *frame, const unsigned char *const *others, int n_others, int least)
{
  Candidate candidates[SCI_OTHERS_MOST];
  int n;

  sci_picture_blocks (frame, work->width, work->height, work->blocks);
  n = rank_others (work, others, n_others, candidates);
  if (n < least)
    return NAN;
  lay_views (work, candidates, n < VIEWS ? n : VIEWS);
  sci_picture_smooth (frame, work->width, work->height, work->here);
  widen_spread (work);
  find_deviations (work);
  return fmax (measure_patch (work, 1), measure_patch (work, -1));
}

/* The frame that stands out most from the other triggers. */
static double
measure_against_others (Work *work, const SciTrigger *trigger)
{
  double most = NAN;

  for (int i = 0; i < trigger->n_frames; i++)
    most = fmax (most, measure_frame (work, trigger->frames[i], trigger->others, trigger->n_others, SCI_OTHERS_LEAST));
  return most;
}

/* Each frame against each other one of the same trigger. */
static double
measure_alone (Work *work, const SciTrigger *trigger)
{
  double sum = 0;
  int n = 0;

  for (int i = 0; i < trigger->n_frames; i++)
    for (int j = 0; j < trigger->n_frames; j++)
      {
        double measure = i != j ? measure_frame (work, trigger->frames[i], &trigger->frames[j], 1, 1) : NAN;

        if (isnan (measure))
          continue;
        sum += measure;
        n++;
      }
  return n > 0 ? sum / n : NAN;
}

double
sci_blank_measure (const SciTrigger *trigger)
{
  Work work;
  double measure = NAN;

  if (trigger->width < SCI_PICTURE_LEAST || trigger->height < SCI_PICTURE_LEAST || trigger->width > SCI_PICTURE_MOST ||
      trigger->height > SCI_PICTURE_MOST || trigger->n_frames < 1 || !set_up_work (&work, trigger->width, trigger->height))
    return NAN;
  if (trigger->n_others >= SCI_OTHERS_LEAST)
    measure = measure_against_others (&work, trigger);
  if (isnan (measure) && trigger->n_frames >= 2)
    measure = measure_alone (&work, trigger);
  free (work.memory);
  return measure;
}

double
sci_blank_score (double measure)
{
  return 1 / (1 + pow (measure / HALF_AT, 4));
}

SciLightKind
sci_light_kind (const unsigned char *rgb, int width, int height, int flash)
{
  int first = (int) (height * SCI_HEAD_SHARE), end = height - (int) (height * SCI_FOOT_SHARE);
  double n = (double) (end - first) * width, red = 0, blue = 0, apart_red = 0, apart_blue = 0;

  for (int i = first * width; i < end * width; i++)
    {
      red += rgb[3 * i] - rgb[3 * i + 1];
      blue += rgb[3 * i + 2] - rgb[3 * i + 1];
    }
  for (int i = first * width; i < end * width; i++)
    {
      apart_red += fabs (rgb[3 * i] - rgb[3 * i + 1] - red / n);
      apart_blue += fabs (rgb[3 * i + 2] - rgb[3 * i + 1] - blue / n);
    }
  if (apart_red / n < GREY_BELOW && apart_blue / n < GREY_BELOW)
    return SCI_LIGHT_INFRARED;
  return flash == 1 ? SCI_LIGHT_FLASH : SCI_LIGHT_DAY;
}
