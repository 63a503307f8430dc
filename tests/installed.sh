#!/bin/sh
# SPDX-License-Identifier: MIT
# make installcheck: is what got installed whole and usable? Takes its places from the
# environment (set by the Makefile): VUG_SRCDIR, VUG_BUILDDIR, LIBDIR, INCLUDEDIR, MANDIR,
# BINDIR, DOCDIR, COMPLETIONDIR, DESTDIR, CC, and SHARED and STATIC (yes or no).
set -eu
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
checks=0

ok() {
    checks=$((checks + 1))
}

fail() {
    echo "installed: $*" >&2
    exit 1
}

source="$VUG_SRCDIR/tests/consumer/consumer.c"
[ -f "$DESTDIR$INCLUDEDIR/vug.h" ] || fail "no vug.h"
cmp -s "$DESTDIR$INCLUDEDIR/vug.h" "$VUG_SRCDIR/include/vug.h" || fail "another vug.h"
ok

# ---- each call has a man page that man(1) finds ------------------------------------------
sed -n 's/^ *\(vug_[a-z0-9_]*\);$/\1/p' "$VUG_SRCDIR/lib/vug.map" >"$work/names"
while read -r name; do
    page="$DESTDIR$MANDIR/man3/$name.3"
    if [ ! -f "$page" ]; then
        fail "no man page $name(3)"
    elif grep -q '^\.so ' "$page"; then
        [ -f "$DESTDIR$MANDIR/$(sed 's/^\.so //' "$page")" ] || fail "$name(3) points nowhere"
    fi
    ok
done <"$work/names"

# ---- pkg-config ---------------------------------------------------------------------------
if command -v pkg-config >/dev/null; then
    PKG_CONFIG_PATH="$DESTDIR$LIBDIR/pkgconfig"
    PKG_CONFIG_SYSROOT_DIR=$DESTDIR
    export PKG_CONFIG_PATH PKG_CONFIG_SYSROOT_DIR
    pkg-config --validate vug
    version=$(sed -n 's/^#define VUG_VERSION_STRING "\(.*\)"/\1/p' "$VUG_SRCDIR/include/vug.h")
    [ "$(pkg-config --modversion vug)" = "$version" ] || fail "vug.pc has another version"
    ok
    if [ "$SHARED" = yes ]; then
        # shellcheck disable=SC2046,SC2086 # lists of options
        $CC "$source" -o "$work/shared" $(pkg-config --cflags --libs vug) -lm
        LD_LIBRARY_PATH="$DESTDIR$LIBDIR" "$work/shared" || fail "the shared program fails"
        ok
    fi
    if [ "$STATIC" = yes ]; then
        # shellcheck disable=SC2046,SC2086
        $CC "$source" -o "$work/static" $(pkg-config --static --cflags vug) \
            $(pkg-config --static --libs vug | sed 's/-lvug/-l:libvug.a/') -lm
        "$work/static" || fail "the static program fails"
        ok
        # A program with no shared library at all, where the C library and the rest are there for that.
        echo 'int main(void) { return 0; }' >"$work/empty.c"
        # shellcheck disable=SC2046,SC2086
        if ! $CC -static "$work/empty.c" -o "$work/empty" \
                $(pkg-config --static --libs vug | sed 's/-lvug//') -lm 2>"$work/log"; then
            echo "skipped: cc -static: $(head -n 1 "$work/log")"
        else
            $CC -static  "$source" -o "$work/alone" $(pkg-config --static --cflags --libs vug) -lm 2>"$work/log" ||
                { cat "$work/log" >&2; fail "cc -static by pkg-config --static"; }
            "$work/alone" || fail "the program that is static as a whole fails"
            ok
        fi
    fi
    unset PKG_CONFIG_SYSROOT_DIR
    if [ "$SHARED" = yes ]; then
        PKG_CONFIG_PATH=$VUG_BUILDDIR
        # shellcheck disable=SC2046,SC2086
        $CC "$source" -o "$work/uninstalled" $(pkg-config --cflags --libs vug) -lm
        LD_LIBRARY_PATH="$VUG_BUILDDIR/.libs" "$work/uninstalled" || fail "the build tree's .pc"
        ok
    fi
fi

# ---- CMake ----------------------------------------------------------------------------------
if command -v cmake >/dev/null; then
    cmake -S "$VUG_SRCDIR/tests/consumer" -B "$work/cmake" \
        -Dvug_DIR="$DESTDIR$LIBDIR/cmake/vug" >"$work/log" 2>&1 &&
        cmake --build "$work/cmake" >>"$work/log" 2>&1 &&
        (cd "$work/cmake" && ctest --output-on-failure >>"$work/log" 2>&1) ||
        { cat "$work/log" >&2; fail "the CMake consumer"; }
    grep -q "tests passed" "$work/log" || { cat "$work/log" >&2; fail "CMake ran no test"; }
    ok
fi

# ---- the tools, and what bash completes for them ---------------------------------------------
for program in "$DESTDIR$BINDIR"/vug-*; do
    [ -f "$program" ] || continue
    LD_LIBRARY_PATH="$DESTDIR$LIBDIR" "$program" --help >/dev/null || fail "$program --help"
    [ -f "$DESTDIR$COMPLETIONDIR/${program##*/}" ] || fail "no completion for ${program##*/}"
    [ -f "$DESTDIR$MANDIR/man1/${program##*/}.1" ] || fail "no man page ${program##*/}(1)"
    ok
done

# ---- the numbered programs, built from where they were installed -------------------------------
if [ "$SHARED" = yes ] && command -v pkg-config >/dev/null; then
    cp -R "$DESTDIR$DOCDIR/examples" "$work/examples"
    PKG_CONFIG_PATH="$DESTDIR$LIBDIR/pkgconfig" PKG_CONFIG_SYSROOT_DIR=$DESTDIR \
        make -s -C "$work/examples" CC="$CC" >"$work/log" 2>&1 || { cat "$work/log" >&2; fail "examples"; }
    if command -v "${CXX:-c++}" >/dev/null; then
        PKG_CONFIG_PATH="$DESTDIR$LIBDIR/pkgconfig" PKG_CONFIG_SYSROOT_DIR=$DESTDIR \
            make -s -C "$work/examples" CXX="${CXX:-c++}" drag_a_vent >"$work/log" 2>&1 ||
            { cat "$work/log" >&2; fail "the example in C++"; }
    else
        rm "$work/examples/drag_a_vent.out"
    fi
    for program in "$work"/examples/*.out; do
        (cd "$work/examples" && LD_LIBRARY_PATH="$DESTDIR$LIBDIR" "${program%.out}" >"$work/log") ||
            fail "${program%.out}"
        ok
    done
fi
echo "installed: $checks checks passed"
