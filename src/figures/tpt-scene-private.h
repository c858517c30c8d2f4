/* Shared by the parts that draw a scene. Drawn on a canvas 240 wide and 160
 * high, whatever the picture's size. */
#pragma once

#include <cairo.h>

#include "tpt-scene.h"

G_BEGIN_DECLS

#define SCENE_WIDTH 240.0
#define SCENE_HEIGHT 160.0

/* Daylight is green and brown; flash and infra-red at night come out grey. */
void tpt_scene_set_color (cairo_t *cr, const TptScene *scene, double red, double green, double blue);

/* The animals, on the ground. */
void tpt_scene_draw_animals (cairo_t *cr, const TptScene *scene);

/* One of them: feet at 0, 0, a unit high at the shoulder, looking right. */
void tpt_scene_draw_body (cairo_t *cr, const TptScene *scene);

G_END_DECLS
