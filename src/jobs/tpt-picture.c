#include "tpt-previews-private.h"

/* The picture, reference counted behind its public part. */
typedef struct {
  TptPicture picture;
  gatomicrefcount references;
} Counted;

G_DEFINE_BOXED_TYPE (TptPicture, tpt_picture, tpt_picture_ref, tpt_picture_unref)

TptPicture *
tpt_picture_ref (TptPicture *self)
{
  g_atomic_ref_count_inc (&((Counted *) self)->references);
  return self;
}

void
tpt_picture_unref (TptPicture *self)
{
  if (!g_atomic_ref_count_dec (&((Counted *) self)->references))
    return;
  g_bytes_unref (self->pixels);
  g_free (self);
}

TptPicture *
tpt_picture_new (TptPixels *pixels)
{
  Counted *counted = g_new0 (Counted, 1);

  g_atomic_ref_count_init (&counted->references);
  counted->picture = (TptPicture) {
    .pixels = g_bytes_new_take (g_steal_pointer (&pixels->data), (gsize) pixels->stride * pixels->height),
    .width = pixels->width,
    .height = pixels->height,
    .stride = pixels->stride,
    .full_width = pixels->full_width,
    .full_height = pixels->full_height,
    .partial = pixels->partial,
  };
  tpt_pixels_free (pixels);
  return &counted->picture;
}

TptPixels
tpt_picture_view (const TptPicture *picture)
{
  return (TptPixels) {
    .data = (guint8 *) g_bytes_get_data (picture->pixels, NULL),
    .width = picture->width,
    .height = picture->height,
    .stride = picture->stride,
    .full_width = picture->full_width,
    .full_height = picture->full_height,
    .partial = picture->partial,
  };
}
