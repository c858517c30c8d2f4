/* The plain ground below everything, with a graticule and its degrees. */
#pragma once

#include <shumate/shumate.h>

G_BEGIN_DECLS

#define TPT_TYPE_MAP_GROUND (tpt_map_ground_get_type ())
G_DECLARE_FINAL_TYPE (TptMapGround, tpt_map_ground, TPT, MAP_GROUND, ShumateLayer)

ShumateLayer *tpt_map_ground_new (ShumateViewport *viewport);

/**
 * tpt_map_graticule_step:
 * @degrees: the least distance between two lines
 * @digits: (out): decimals that its multiples need
 *
 * Returns: 1, 2 or 5 times a power of ten of degrees, at least @degrees
 */
double tpt_map_graticule_step (double degrees, int *digits);

G_END_DECLS
