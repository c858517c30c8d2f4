/* Pictures as textures, lifted out of the dark or as they are.
 *
 * A lift goes from 0, as taken, to 1, the strongest. It raises each channel to
 * a power below one, so black and white stay what they are and no detail is
 * clipped; the picture itself is never changed.
 */
#pragma once

#include <gtk/gtk.h>

#include "tpt-previews.h"

G_BEGIN_DECLS

/* The mean brightness, 0 to 1, of a sample of its pixels; of the middle
 * channel, which carries most of what the eye sees. */
double tpt_light_measure (TptPicture *picture);

/* The lift that brings a picture of this mean brightness to one that is easy
 * to look at; 0 for one that is not dark. */
double tpt_light_suggest (double mean);

/* What a lift makes of one channel's value. */
guint8 tpt_light_apply (double lift, guint8 value);

/**
 * tpt_light_make_texture:
 * @part: (nullable): of the picture, in its pixels; %NULL for all of it
 *
 * Returns: (transfer full): in the form that is drawn without another conversion
 */
GdkTexture *tpt_light_make_texture (TptPicture *picture, const cairo_rectangle_int_t *part, double lift);

G_END_DECLS
