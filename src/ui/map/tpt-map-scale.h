/* A scale bar that is right on the parallel through the middle of the map, and
 * the mark of north: the map is never turned. */
#pragma once

#include <shumate/shumate.h>

G_BEGIN_DECLS

#define TPT_TYPE_MAP_SCALE (tpt_map_scale_get_type ())
G_DECLARE_FINAL_TYPE (TptMapScale, tpt_map_scale, TPT, MAP_SCALE, GtkWidget)

GtkWidget *tpt_map_scale_new (void);

void tpt_map_scale_set_viewport (TptMapScale *self, ShumateViewport *viewport);

/**
 * tpt_map_scale_length:
 * @metres_per_pixel: on the ground
 * @most: pixels the bar may take
 *
 * Returns: metres, the longest of 1, 2 or 5 times a power of ten that fits
 */
double tpt_map_scale_length (double metres_per_pixel, double most);

/* (transfer full): "500 m", "2 km". */
char *tpt_map_scale_name (double metres);

G_END_DECLS
