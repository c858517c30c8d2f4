/* Pictures as the score for empty triggers looks at them: small and grey. */
#pragma once

#include <glib.h>

#include "sci-blank.h"

G_BEGIN_DECLS

/* The longer side, pixels. */
#define TPT_BLANK_SIDE 144

/**
 * TptBlankPicture:
 * @width: pixels
 * @height: pixels
 * @light: told from its colours and the flash
 * @grey: levels, rows from the top without gaps
 */
typedef struct {
  int width;
  int height;
  SciLightKind light;
  guint8 grey[];
} TptBlankPicture;

/**
 * tpt_blank_picture_load:
 * @path: a picture
 * @flash: 1 fired, 0 not, -1 unknown
 *
 * From the thumbnail the camera put into the file when that is large enough,
 * else scaled while it is decoded. Pictures of one shape come in one size. From any thread.
 *
 * Returns: (transfer full) (nullable): freed with g_free(); %NULL with
 *   TPT_ERROR_DATA for what is no picture, is damaged in part, or is too small or
 *   too narrow; TPT_ERROR_IO when it cannot be read
 */
TptBlankPicture *tpt_blank_picture_load (const char *path, int flash, GError **error);

G_END_DECLS
