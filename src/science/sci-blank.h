/* How probably nobody is in the pictures of a trigger.
 *
 * The order is what the score is for. It knows nothing of species, and what it
 * takes for an animal may be a branch that fell.
 */
#pragma once

#include <stdint.h>

#include "sci-background.h"

/* The light a picture was taken in, told from it; pictures of different light are
 * not compared. */
typedef enum {
  SCI_LIGHT_DAY,      /* colours, no flash */
  SCI_LIGHT_INFRARED, /* grey */
  SCI_LIGHT_FLASH,    /* colours, the flash fired */
} SciLightKind;

/* Given:
 *   rgb     width * height * 3 levels, rows from the top without gaps
 *   width   pixels
 *   height  pixels
 *   flash   1 fired, 0 not, -1 unknown
 *
 * Notes:
 *   Grey when red and blue differ from green by the same everywhere, mean absolute
 *   difference below 3.5 levels each: infra-red pictures may have a tint but have no
 *   colours. The line that cameras write at head and foot is left out.
 */
SciLightKind sci_light_kind (const unsigned char *rgb, int width, int height, int flash);

/* The fewest pictures of other triggers that make a background. */
#define SCI_OTHERS_LEAST 5
#define SCI_OTHERS_MOST 48

/* Which other triggers to compare a trigger with.
 *
 * Given:
 *   at       start of each trigger, milliseconds, ascending
 *   kinds    light of each; anything below 0: there is no picture of it
 *   n        how many
 *   which    the one in question, 0 to n - 1
 *
 * Returned:
 *   chosen   up to SCI_TRIGGERS_MOST of them, nearest first
 *   how many
 *
 * Notes:
 *   Those of the same light nearest in time, at least ten minutes from this one
 *   and from each other, so that an animal that stays does not become background.
 *   With fewer than SCI_OTHERS_LEAST of these, the nearest whatever the time between.
 */
#define SCI_TRIGGERS_MOST 24
int sci_blank_choose (const int64_t *at, const int *kinds, int n, int which, int *chosen);

/* A trigger and what it is compared with; grey pictures of one size. */
typedef struct {
  int width;
  int height;
  const unsigned char *const *frames;
  int n_frames;
  const unsigned char *const *others; /* of other triggers at this place in this light */
  int n_others;                       /* SCI_OTHERS_MOST count */
} SciTrigger;

/* What stands out from the place as it mostly is.
 *
 * Given:
 *   trigger   SciTrigger  with at least SCI_OTHERS_LEAST others, or two frames
 *
 * Returned:
 *   no unit, >= 0; the more, the more probably something is there. NaN when there is
 *   too little to compare with, the pictures are too small or large, or memory ran out.
 *
 * Notes:
 *   For each frame: every other picture is put into this frame's light
 *   (sci_light_fit()), and of those that then differ least, sixteen make a background with
 *   a spread for each pixel. What differs is divided by that spread, joined with noise (at
 *   least 1.5 levels) and with a third of a pixel's shift of the camera along the edges; and
 *   again by how much pixels of a like spread stir in this frame, so that a gust counts
 *   less. Up to five deviations count, of brighter and of darker pixels apart, and
 *   sci_blobs_measure() finds the largest patch of either. The trigger's measure is
 *   that of its frame with the largest.
 *   With too few others, frames of the trigger are compared with each other in
 *   pairs: what keeps still in front of the camera is not seen then.
 *
 * References:
 *   sci-background.h and sci-blobs.h. Dividing by a spread for each pixel:
 *   Wren et al. 1997, IEEE PAMI 19, 780 (from memory); median and absolute deviation in
 *   place of mean and deviation: Hampel 1974, JASA 69, 383. The combination, and
 *   all constants, are ours, chosen on generated pictures.
 */
double sci_blank_measure (const SciTrigger *trigger);

/* The measure as a score from 0, surely something, to 1, surely nothing.
 *
 * Given:
 *   measure  from sci_blank_measure()
 *
 * Returned:
 *   1 / (1 + (measure / 42)^4); NaN for NaN
 *
 * Notes:
 *   A fixed map that keeps the order: one half where generated blanks and
 *   animals are about as frequent. Not a probability; that would take pictures with
 *   known truth of the same place.
 */
double sci_blank_score (double measure);
