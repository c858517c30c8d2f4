/* Shows pictures as the program does, for test_previews.py.
 *
 *     preview-driver SIZE PATH...
 *
 * One line for each, columns with tabs between: path, width, height, width and
 * height of the whole, 1 when some of it could not be decoded, and then the
 * middles of its four quarters, top left, top right, bottom left, bottom right, as
 * six hexadecimal digits. Or path and the error's message. */
#include <stdlib.h>

#include "tpt-preview.h"

static void
print_quarter (const TptPixels *pixels, int column, int row)
{
  const guint8 *at = pixels->data + (gsize) ((2 * row + 1) * pixels->height / 4) * pixels->stride +
                     (gsize) 3 * ((2 * column + 1) * pixels->width / 4);

  g_print ("\t%02x%02x%02x", at[0], at[1], at[2]);
}

static void
show_one (const char *path, int size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TptPixels) pixels = tpt_preview_decode (path, size, &error);

  if (pixels == NULL)
    {
      g_print ("%s\t%s\n", path, error->message);
      return;
    }
  g_print ("%s\t%d\t%d\t%d\t%d\t%d", path, pixels->width, pixels->height, pixels->full_width, pixels->full_height,
           pixels->partial);
  for (int quarter = 0; quarter < 4; quarter++)
    print_quarter (pixels, quarter % 2, quarter / 2);
  g_print ("\n");
}

int
main (int argc, char **argv)
{
  for (int i = 2; i < argc; i++)
    show_one (argv[i], atoi (argv[1]));
  return 0;
}
